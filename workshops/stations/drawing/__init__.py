"""Drawings of parts, heads, rolls and whole sets as SVG, made from a build sheet.

Pure Python. A drawing is 160 mm wide on paper; one user unit is one millimetre there, so
that text sizes hold on a card. Black on white only, plain SVG 1.1 that a PDF maker takes.
Things that a test or a page wants to find carry ``data-um`` (micrometres from end A).
"""
