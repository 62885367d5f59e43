"""What a list would do to the stock: the fates of its rows, and how they are written."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime

from workshops.access.models import User
from workshops.common.fates import Change, Fate, RowFate, counts_of, print_of, refused

__all__ = ["Change", "Fate", "Plan", "RowFate", "Write", "refused"]

Write = Callable[[User, datetime], None]


@dataclass(frozen=True)
class Plan:
    """The fates of all rows, the places they would add, and how they are written.

    ``write`` is called with the book locked, and only when no row is refused.
    """

    fates: Sequence[RowFate]
    write: Write
    adds_places: tuple[str, ...] = ()
    lacks_places: tuple[str, ...] = ()

    @property
    def counts(self) -> dict[Fate, int]:
        """How many rows come to each end."""
        return counts_of(self.fates)

    @property
    def can_be_written(self) -> bool:
        """Whether nothing is refused and something is to be done."""
        counts = self.counts
        return not counts[Fate.REFUSED] and bool(counts[Fate.NEW] + counts[Fate.CHANGED])

    @property
    def print(self) -> str:
        """The same for two plans exactly when every row comes to the same end in both."""
        return print_of(self.fates, self.adds_places)
