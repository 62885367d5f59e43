"""Where things stand in a picture of the winter: days across, counts upward."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from workshops.season.strokes import ROW, Key, rows_of

MARGIN_LEFT = 52
MARGIN_RIGHT = 108
NARROW = 600


@dataclass(frozen=True, slots=True)
class Frame:
    """The plot area in units of the view box, and its two scales."""

    left: float
    right: float
    top: float
    bottom: float
    first: date
    last: date
    most: int
    labelled_days: tuple[date, ...]
    window_row: float
    key_rows: list[list[Key]]
    key_top: float

    @property
    def is_narrow(self) -> bool:
        """Whether the picture is laid out for a phone."""
        return self.right + MARGIN_RIGHT < NARROW

    def x(self, day: date) -> float:
        """Where a day stands."""
        share = (day - self.first).days / max((self.last - self.first).days, 1)
        return self.left + share * (self.right - self.left)

    def y(self, count: float) -> float:
        """Where a count stands."""
        return self.bottom - count / self.most * (self.bottom - self.top)

    def apart(self, rows: Sequence[float], *, gap: float) -> list[float]:
        """Rows (top to bottom) pushed at least ``gap`` apart, kept inside the frame."""
        placed: list[float] = []
        for row in rows:
            placed.append(max(row, placed[-1] + gap) if placed else max(row, self.top))
        over = max(0.0, placed[-1] - self.bottom) if placed else 0.0
        return [row - over for row in placed]


def frame_of(
    *,
    days: Sequence[date],
    most: int,
    width: int,
    height: int,
    key: Sequence[Key],
    windows: int,
) -> Frame:
    """Lay out the plot: a row of words above it for each strip, marks, dates and the key below."""
    first, last = min(days) - timedelta(days=2), max(days) + timedelta(days=2)
    rows = rows_of(key, width=width - MARGIN_LEFT)
    # On a phone the words of a strip may have to stand above its bracket.
    window_row = ROW if width >= NARROW else 1.7 * ROW
    top = 44 + windows * window_row
    bottom = height - 58 - ROW * len(rows)
    right = width - MARGIN_RIGHT
    return Frame(
        left=MARGIN_LEFT,
        right=right,
        top=top,
        bottom=bottom,
        first=first,
        last=last,
        most=round(most * 1.06) + 1,
        labelled_days=tuple(days_to_label(first, last, room=right - MARGIN_LEFT)),
        window_row=window_row,
        key_rows=rows,
        key_top=bottom + 66,
    )


def days_to_label(first: date, last: date, *, room: float) -> list[date]:
    """Mondays, as many as have 70 units each; always at least one day."""
    monday = first + timedelta(days=-first.weekday() % 7)
    weeks = max((last - monday).days // 7 + 1, 1)
    every = max(1, -(-weeks * 70 // max(int(room), 1)))
    found = [monday + timedelta(weeks=week) for week in range(0, weeks, every)]
    return [day for day in found if day <= last] or [first]


def steps(most: float, *, wanted: int) -> list[int]:
    """Whole, round counts from 0 to ``most``: about ``wanted`` of them.

    >>> steps(260, wanted=5)
    [0, 50, 100, 150, 200, 250]
    """
    rough = max(most / wanted, 1)
    size = 10 ** (len(str(int(rough))) - 1)
    step = next(size * factor for factor in (1, 2, 5, 10) if size * factor * wanted >= most * 0.8)
    return list(range(0, int(most) + 1, step))


def day_and_month(day: date) -> str:
    """A day as it fits under an axis: "6 Mar"."""
    return f"{day.day} {day:%b}"
