"""Needs: recipes exploded over racks and stock.

How many complete sets the shop can make now, what runs out first (in sets and in
nights), and what to buy by when.
Neighbours: ledger and cutting below; the season above says how many sets are wanted.
"""
