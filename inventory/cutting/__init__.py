"""Sticks, kerf and cut lists: which pieces come out of which stick.

A *cut list* is one run of the engine for one material; its *patterns* say what to cut
from a stick, in order, with running saw marks from one end. What is left is a *drop*
when it is worth keeping and *scrap* when it is not.
Neighbours: ledger below gives the sticks; needs above asks how many pieces they give.
"""
