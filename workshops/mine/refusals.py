"""What the slice refuses, each with a sentence that says what to do."""

from __future__ import annotations


class LinkRefused(ValueError):
    """A link that opens nothing: used, too old, or for somebody who needs a password."""
