"""Lists in and out: items, stock and movements, from a file and into one.

A list that comes in is looked at first: each row has a fate (``fates``), worked out from the
book as it is and written by nobody. ``commit`` works it out again with the book locked, and
writes all of the list or nothing. What goes out (``outgoing``) can come in again, and is then
all there already.
"""
