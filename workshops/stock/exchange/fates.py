"""What becomes of each row of a list, before anything of it is written."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from hashlib import sha256

from workshops.access.models import User


class Fate(StrEnum):
    """The four ends a row can come to; each list has its own words for them."""

    REFUSED = "refused"
    NEW = "new"
    CHANGED = "changed"
    SAME = "same"

    @property
    def shape(self) -> str:
        """The sign beside the word: told apart in grey, and when colours look alike."""
        return {"refused": "✕", "new": "✚", "changed": "◆", "same": "○"}[self.value]


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that becomes another."""

    what: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class RowFate:
    """The fate of one row: what the row is about, and why it comes to this end."""

    number: int
    fate: Fate
    what: str
    says: str = ""
    changes: tuple[Change, ...] = ()
    entry: int | None = None  # where the book has it already


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
        found = Counter(row.fate for row in self.fates)
        return {fate: found[fate] for fate in Fate}

    @property
    def can_be_written(self) -> bool:
        """Whether nothing is refused and something is to be done."""
        counts = self.counts
        return not counts[Fate.REFUSED] and bool(counts[Fate.NEW] + counts[Fate.CHANGED])

    @property
    def print(self) -> str:
        """The same for two plans exactly when every row comes to the same end in both."""
        told = sha256(repr(self.adds_places).encode())
        for row in self.fates:
            told.update(repr((row.number, row.fate.value, row.what, row.says)).encode())
            told.update(repr([(c.what, c.before, c.after) for c in row.changes]).encode())
        return told.hexdigest()


def refused(number: int, what: str, *faults: str) -> RowFate:
    """A row that cannot be written, with everything that is wrong with it."""
    return RowFate(number, Fate.REFUSED, what, " ".join(faults))
