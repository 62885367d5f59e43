"""Training: who learns what, with whom, on which night; the evening on which all sign again.

Words: with a lead, nearly ready, one-person job, re-sign evening, training timetable.
Neighbours: people, nights and season below.
"""
