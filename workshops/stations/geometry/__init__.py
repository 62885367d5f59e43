"""The geometry of a build sheet: parts, roll and fit, and what is wrong with them.

Pure Python, no Django. Lengths are whole micrometres (``_um``). ``sheet`` describes,
``roll``, ``fit`` and ``volumes`` compute, ``warnings`` says what to mend and how.
"""
