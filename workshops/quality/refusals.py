"""What the slice refuses, each with a sentence that says what to do."""

from __future__ import annotations


class CheckRefused(ValueError):
    """A check or a sorting that cannot be as asked; ``field`` names what to mend."""

    def __init__(self, says: str, field: str = "") -> None:
        self.field = field
        super().__init__(says)
