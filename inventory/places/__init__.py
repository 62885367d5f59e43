"""Shops, their rooms and the places where things are kept.

A *shop* is the workshop of one club; every other row of the site belongs to one.
A *room* holds stations; a *place* (rack, shelf, yard, loft) holds things.
Neighbours: everything stands on this slice, it stands on nothing.
"""
