"""What becomes of each row of a list, before anything of it is written."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from hashlib import sha256


class Fate(StrEnum):
    """The ends a row can come to; each list has its own words for them."""

    REFUSED = "refused"
    ASKS = "asks"
    NEW = "new"
    CHANGED = "changed"
    SAME = "same"

    @property
    def shape(self) -> str:
        """The sign beside the word: told apart in grey, and when colours look alike."""
        return {"refused": "✕", "asks": "?", "new": "✚", "changed": "◆", "same": "○"}[self.value]


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
    # What can be answered to a row that asks: value and words.
    choices: tuple[tuple[str, str], ...] = ()


def counts_of(fates: Iterable[RowFate]) -> dict[Fate, int]:
    """How many rows come to each end."""
    found = Counter(row.fate for row in fates)
    return {fate: found[fate] for fate in Fate}


def print_of(fates: Sequence[RowFate], *more: object) -> str:
    """The same for two lists exactly when every row comes to the same end in both."""
    told = sha256(repr(more).encode())
    for row in fates:
        told.update(repr((row.number, row.fate.value, row.what, row.says)).encode())
        told.update(repr([(c.what, c.before, c.after) for c in row.changes]).encode())
    return told.hexdigest()


def refused(number: int, what: str, *faults: str) -> RowFate:
    """A row that cannot be written, with everything that is wrong with it."""
    return RowFate(number, Fate.REFUSED, what, " ".join(faults))
