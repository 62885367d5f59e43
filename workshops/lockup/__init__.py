"""Closing a night: stop, count, tag, tear down at each station, and the hand-over.

Words: step, ticked, not done because, rack, hand-over, next opener. Neighbours: nights and its
permit, stations, and the stock below.
"""
