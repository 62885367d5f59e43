"""The flow board: what lies on each rack, which station starves or drowns, who changes places.

Words: rack, starves, drowns, swap.
Neighbours: nights, season and training below.
"""
