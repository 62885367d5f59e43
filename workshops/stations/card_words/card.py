"""The words of a card: steps, key points, reasons, first piece, bad piece."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Step:
    """One important step: what to do, how it is done well, why so."""

    step: str
    key_point: str
    reason: str

    def as_row(self) -> dict[str, str]:
        """The form in which an operation keeps it."""
        return {"step": self.step, "key_point": self.key_point, "reason": self.reason}


@dataclass(frozen=True, slots=True)
class CardText:
    """The words of one card. Fields that make no sense for the work are empty."""

    steps: tuple[Step, ...]
    first_piece: str = ""
    bad_piece: str = ""
    check_every: int = 0
