"""What the slice refuses, with a sentence that says what to do."""

from __future__ import annotations


class WinterRefused(ValueError):
    """A winter, a target or an outlook that cannot be as asked."""
