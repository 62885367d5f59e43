"""Sticks to scale: where each piece lies, its letter, the running saw marks below."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import count

from inventory.cutting.queries import CutList, Strip
from inventory.measures.lengths import Units, spell_inches, spell_length

WIDTH = 1000  # of the longest stick, in the drawing's own units
MARK_ROOM = 18  # a character of a mark on the screen
MARK_ROWS = 2  # rows of marks below a stick
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class Shape:
    """One stretch of a stick; ``letter`` stands for a piece, is empty for the rest."""

    kind: str
    letter: str
    x: int
    width: int

    @property
    def middle(self) -> int:
        """Where the letter stands."""
        return self.x + self.width // 2


@dataclass(frozen=True, slots=True)
class Tick:
    """A saw mark, its text in ``row`` 0 or 1; ``text`` is empty where it would run into others."""

    x: int
    text: str
    row: int = 0


@dataclass(frozen=True, slots=True)
class DrawnStrip:
    """One strip, its picture and its marks in words."""

    strip: Strip
    width: int
    shapes: tuple[Shape, ...]
    ticks: tuple[Tick, ...]
    marks: tuple[str, ...]
    counts: tuple[tuple[str, str, int], ...]

    @property
    def rows(self) -> int:
        """Rows that the marks take below the stick."""
        return max((tick.row + 1 for tick in self.ticks if tick.text), default=1)


def letters_of(told: CutList) -> dict[str, str]:
    """A letter for each piece wanted, longest first; two letters after the twenty-sixth."""
    names = sorted({(-length, label) for label, length, _ in told.wanted})
    letters = (_letter(n) for n in count())
    return {label: letter for (_, label), letter in zip(names, letters, strict=False)}


def lettered(told: CutList) -> list[tuple[str, str, int, int]]:
    """The pieces wanted as (letter, name, length, count), longest first."""
    letters = letters_of(told)
    rows = [(letters[label], label, length, wanted) for label, length, wanted in told.wanted]
    return sorted(rows, key=lambda row: (-row[2], row[1]))


def draw(told: CutList, units: Units, *, mark_room: int = MARK_ROOM) -> tuple[DrawnStrip, ...]:
    """Every strip of the list, all to the scale of its longest stick.

    ``mark_room`` is what a character of a mark takes: paper has a narrower face.
    """
    letters, longest = letters_of(told), told.longest_um
    return tuple(
        replace(
            _strip(strip, longest, letters, units),
            ticks=_ticks(strip, longest, units, mark_room),
        )
        for strip in told.strips
    )


def _strip(strip: Strip, longest: int, letters: dict[str, str], units: Units) -> DrawnStrip:
    shapes = tuple(
        Shape(
            part.kind,
            letters.get(part.label, "") if part.kind == "piece" else "",
            _scaled(part.start_um, longest),
            max(1, _scaled(part.length_um, longest)),
        )
        for part in strip.stretches
    )
    names = [piece.label for piece in strip.pieces]
    counts = tuple(
        (letters.get(name, ""), name, names.count(name)) for name in dict.fromkeys(names)
    )
    return DrawnStrip(
        strip=strip,
        width=_scaled(strip.length_um, longest),
        shapes=shapes,
        ticks=(),
        marks=tuple(spell_length(mark, units) for mark in strip.marks),
        counts=counts,
    )


def _ticks(strip: Strip, longest: int, units: Units, mark_room: int) -> tuple[Tick, ...]:
    """Marks with their running measure, where there is room for it."""
    ticks: list[Tick] = []
    free = [0] * MARK_ROWS
    for mark in strip.marks:
        # The text ends at its mark, so it needs the room to the left of it.
        x, text = _scaled(mark, longest), _short(mark, units)
        room = len(text) * mark_room
        row = next((row for row in range(MARK_ROWS) if x - room >= free[row]), None)
        if row is None:
            ticks.append(Tick(x, ""))
            continue
        # A line down to a lower row would strike through texts above it.
        free = [
            max(room_from, x + mark_room) if at <= row else room_from
            for at, room_from in enumerate(free)
        ]
        ticks.append(Tick(x, text, row))
    return tuple(ticks)


def _short(micrometres: int, units: Units) -> str:
    """The measure without its unit: the page names it once."""
    if units is Units.MILLIMETRE:
        return spell_length(micrometres, units).removesuffix(" mm")
    return spell_inches(micrometres)


def _scaled(micrometres: int, longest: int) -> int:
    return micrometres * WIDTH // longest


def _letter(n: int) -> str:
    first, rest = divmod(n, len(LETTERS))
    return (LETTERS[first - 1] if first else "") + LETTERS[rest]
