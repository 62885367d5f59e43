"""What a stocktake came to: how many things agreed, what differed, how big it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from inventory.stocktake.clues import Size, sizes_of
from inventory.stocktake.comparing import Compared
from inventory.stocktake.models import CountLine
from inventory.stocktake.progress import Progress


@dataclass(frozen=True, slots=True)
class Result:
    """One difference that was posted, with its size."""

    row: Compared
    progress: Progress
    size: Size


@dataclass(frozen=True, slots=True)
class Results:
    """The posted sheets together."""

    counted: int
    off: tuple[Result, ...]
    not_looked_at: tuple[Compared, ...]

    @property
    def agreed(self) -> int:
        """Things of which the book had as many as were counted."""
        return self.counted - len(self.off)

    @property
    def unexplained(self) -> int:
        """Differences nobody could explain."""
        return sum(each.row.line.reason == CountLine.Reason.UNEXPLAINED for each in self.off)

    @property
    def worth(self) -> Decimal | None:
        """What all that is missing or too many costs, where a price is known."""
        known = [each.size.worth for each in self.off if each.size.worth is not None]
        return sum(known, Decimal()) if known else None


def results_of(sheets: Sequence[Progress]) -> Results:
    """The results of the sheets that are posted. 1 query a posted sheet that differs."""
    posted = [progress for progress in sheets if progress.sheet.posted_at]
    off, left, counted = [], [], 0
    for progress in posted:
        sizes = sizes_of(progress.lines, progress.sheet.place)
        off += [Result(row, progress, sizes[row.line.pk]) for row in progress.off]
        left += progress.not_looked_at
        counted += len(progress.lines) - len(progress.not_looked_at)
    return Results(counted, tuple(off), tuple(left))
