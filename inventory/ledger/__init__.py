"""The one book of movements.

An *entry* says who changed what, when and why; its *lines* balance to nothing for every
item and length, because each thing that leaves a shelf goes to an account (used, made,
outside, scrap, difference) and back. A *balance* is what the lines of one place add up
to, kept in the same transaction and checked against them.
Neighbours: materials and places below; cutting and needs read the balances.
"""
