"""The pace: the rest of the winter on average, as one linear programme.

It reads the outlook's own problem and beliefs, takes every chance at its mean, and asks what
to make on which night so that the most sets are whole soonest. It knows no luck: the outlook
does. Its prices tell what one piece more on a rack is worth in finished sets.
"""
