"""Deliveries: what was ordered, what came of it, and what was measured at the door.

Words: an order, a delivery (bought or an in-kind gift), what was received of each item.
Neighbours: the ledger below, which every received line is an entry of; needs above.
"""
