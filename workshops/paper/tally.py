"""Boxes to tally in: as many strokes a box as tonight's number asks for, never too narrow."""

from __future__ import annotations

from dataclasses import dataclass

BOXES = 8  # side by side; each is wide enough for a pencil in a glove
STROKES = (5, 10, 20, 50)
ROOM_FOR_MORE = 1.1  # a good night makes more than the plan expects


@dataclass(frozen=True, slots=True)
class TallyRow:
    """One operation to count: ``lines`` of boxes, each named by the count when it is full."""

    name: str
    pieces: int | None
    strokes: int
    lines: tuple[tuple[int, ...], ...]

    @property
    def further(self) -> tuple[tuple[int, ...], ...]:
        """The lines after the first."""
        return self.lines[1:]


def tally_row(name: str, pieces: int | None, *, lines_most: int = 2) -> TallyRow:
    """Boxes for an operation; one line of them holds forty in fives, two lines eighty."""
    room = (pieces or 0) * ROOM_FOR_MORE
    deep = range(1, lines_most + 1)
    ways = [(each, lines) for each in STROKES for lines in deep if BOXES * each * lines >= room]
    strokes, lines_deep = ways[0] if ways else (STROKES[-1], lines_most)
    ends = range(strokes, strokes * BOXES * lines_deep + 1, strokes)
    lines = tuple(tuple(ends[at : at + BOXES]) for at in range(0, len(ends), BOXES))
    return TallyRow(name, pieces, strokes, lines)
