"""Paper: station cards, cut-list sheets, part drawings, the outlook's picture.

Every paper says its night, its print time and the revision of its drawing, and defers to
local codes and licensed practice. ``drawing`` makes SVG from a build sheet without Django.
Neighbours: everything below is read, nothing is changed.
"""
