"""Trouble: near miss or injury in one minute, the station closed at once, the day after.

Words: near miss, hurt, closed station, out of service, to see a lead, who worked where.
Neighbours: nights, stations and people below.
"""
