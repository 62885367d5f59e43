"""Stations, tools and build sheets: what is done where, with what, from which drawing.

A *station* is a kind of work with so many benches. An *operation* is a recipe done at a
station, with its time, its sign-off and the words of its card. A *build sheet* is the
club's own drawing of a set, with a revision; its *parts* say what is cut from which
stock, with holes and bends. ``geometry`` computes on build sheets without Django.
Neighbours: club below; people are signed off for stations, nights place them there.
"""
