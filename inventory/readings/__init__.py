"""Readings: what a thermometer and a moisture probe said of the straw and the hay, and when.

Words: a reading is one probing of one lot of fill in one place.
Neighbours: materials and places below; the levels that alarm are the club's rules, and the
pages that ask for them stand above.
"""
