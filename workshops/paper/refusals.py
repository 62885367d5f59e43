"""What the slice refuses, with a sentence that says what to do."""

from __future__ import annotations


class PaperRefused(ValueError):
    """A paper that cannot be made yet."""
