"""What the slice refuses, each with a sentence that says what to do."""

from __future__ import annotations


class TroubleRefused(ValueError):
    """A report, an addition or a reopening that cannot be as asked."""
