"""Items and recipes: everything countable, and what one of it is made from.

A stick of tube, a drilled post, a head on the rack, a filled cylinder, a hay bale and
a complete set are all *items*. A *recipe* is a parts list: what one output consumes.
Lengths cut from sticks or rolls stand in a recipe as so many pieces of such a length.
Neighbours: places below; ledger counts what is described here.
"""
