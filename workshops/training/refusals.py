"""What the slice refuses, with a sentence that says what to do."""

from __future__ import annotations


class WeighingRefused(ValueError):
    """Why what the winter loses cannot be worked out."""
