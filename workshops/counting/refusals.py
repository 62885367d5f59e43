"""What the slice refuses, each with a sentence that says what to do."""

from __future__ import annotations


class CountingRefused(ValueError):
    """A sheet, a mending or a lost tablet that cannot be as asked."""


class Misread(ValueError):
    """A batch of taps that is not written as a tablet writes it."""
