"""Exact lengths and their spelling. Pure Python, no Django: engines use it too.

A length is an ``int`` of micrometres (25,400 to the inch). What people type is rounded
once, when it is read: 1/64 in is 396.875 µm and becomes 397. No float holds a length.
"""
