"""Persons, sign-offs, bars, guardians and waivers: who may do what.

A *sign-off* says how far a person may go at a station, signed by whom, until when. A
*bar* stops a person at one station or at all, at once. ``gate`` answers whether a person
may do a thing on a day and, if not, why and what would make it so: every door asks it.
Neighbours: stations below; nights places people and keeps the roll.
"""
