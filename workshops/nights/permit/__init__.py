"""The hot-work permit of a night: points, sparks, turns of the watch, signatures.

Words: hot work, last spark, fire watch, turn, round, second look. Every spark, answer and
signature is a row of its own that nobody edits; the permit keeps where it stands now.
"""
