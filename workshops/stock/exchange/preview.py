"""A brought file looked at: what would become of each row, were it written now."""

from __future__ import annotations

from dataclasses import dataclass

from workshops.common.columns import read_rows
from workshops.common.models import Upload
from workshops.common.sheets import read_sheet
from workshops.stock.exchange.fates import Fate, Plan, RowFate
from workshops.stock.exchange.kinds import KINDS, ListKind


@dataclass(frozen=True)
class Preview:
    """The fates of a file's rows, and the headings that nobody asked for."""

    upload: Upload
    kind: ListKind
    plan: Plan
    unknown: tuple[str, ...]

    @property
    def told(self) -> list[tuple[Fate, str, int]]:
        """Each fate that a row comes to, with its word and how many do."""
        counts = self.plan.counts
        return [(fate, self.kind.words[fate], n) for fate, n in counts.items() if n]

    def rows(self, fate: str = "") -> list[RowFate]:
        """The rows of one fate; all of them without one."""
        return [row for row in self.plan.fates if not fate or row.fate.value == fate]


def preview_of(upload: Upload) -> Preview:
    """What the file would do to the book as it is now. At most 6 queries for 10,000 rows.

    Raises
    ------
    SheetRefused
        When the file is no list of its kind.
    """
    kind = KINDS[upload.kind]
    reading = read_rows(read_sheet(bytes(upload.data)), kind.columns(upload.shop))
    choices = upload.choices | {"file": upload.name}
    return Preview(upload, kind, kind.plan(upload.shop, reading, choices), reading.unknown)
