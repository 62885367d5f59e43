"""Quality: first piece, every nth piece, break tests, what is held back and how it is sorted.

Words: check, first piece, every nth, break test, held back, good / rework / scrap.
Neighbours: nights (what was tallied, who stood there), stations (the drawing judges) and
inventory.ledger (what is on hold stands in the book) below.
"""
