"""Shop nights: sign-ups, the roll, placings, tally, hot-work permit, hand-over.

A *night* has *blocks* of time; a *placing* puts one person at one station for one
block; the *roll* says who is in the building; a *tally* line is one ledger entry that
consumes and produces. ``engine`` places people, ``translate`` speaks to it.
Neighbours: people and stations below; season sums up the nights.
"""
