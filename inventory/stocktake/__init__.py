"""Stocktake: a place counted twice by two people, against a book that goes on moving.

Words: a count sheet is one place to count; the second count is blind; the cut-off is the
moment each line was counted.
Neighbours: the ledger below, which the differences are posted to.
"""
