"""The pages that gather: tonight at a glance, what is short, the winter's band, what next.

Neighbours: reads every slice, changes none.
"""
