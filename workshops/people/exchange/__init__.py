"""Lists of people in and out: a club's own spreadsheet, looked at row by row before it is written.

Sign-offs of a list are a copy of the club's paper register: they go through the one door for
that, and a list makes nobody an authoriser. What goes out can come in again.
"""
