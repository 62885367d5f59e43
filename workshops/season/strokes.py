"""The pen: SVG elements as text, in the house's colours, with patterns that survive grey."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from html import escape
from typing import Protocol

INK = "#1c2b33"
ICE = "#dcebf2"
WATER = "#2f6f8f"
REED = "#c98a1b"
MOSS = "#4d6b3c"
PAPER = "#ffffff"
FONT = "'Red Hat Display','Source Sans Pro',sans-serif"

# Darker the nearer the middle: told apart on a grey printer too.
FILLS = {"band-95": "#d3e4ec", "band-80": "#a3c6d6", "band-50": "#6a9fb8"}

# Drawn about the origin.
MARKS = {
    "made": f'<circle r="6" fill="{MOSS}" stroke="{PAPER}" stroke-width="2"/>',
    "square": f'<rect x="-4.5" y="-4.5" width="9" height="9" fill="{INK}"/>',
    "round": f'<circle r="5" fill="{PAPER}" stroke="{REED}" stroke-width="2.5"/>',
    "half": (
        f'<rect x="-4.5" y="-4.5" width="4.5" height="9" fill="{INK}"/>'
        f'<path d="M0 -4.5 a4.5 4.5 0 0 1 0 9" fill="{PAPER}" stroke="{REED}" stroke-width="2"/>'
    ),
}
ROW = 24  # between two rows of words

Point = tuple[float, float]
Key = tuple[str, str]

DEFS = (
    '<defs><pattern id="ready" width="10" height="10" patternUnits="userSpaceOnUse" '
    f'patternTransform="rotate(45)"><rect width="10" height="10" fill="#fbf3e3" opacity=".6"/>'
    f'<line x1="0" y1="0" x2="0" y2="10" stroke="{REED}" stroke-width="2" opacity=".55"/>'
    '</pattern><pattern id="ice" width="18" height="12" patternUnits="userSpaceOnUse">'
    f'<rect width="18" height="12" fill="{ICE}" opacity=".75"/><path d="M0 9 l4.5 -6 l4.5 6 '
    f'l4.5 -6 l4.5 6" fill="none" stroke="{WATER}" stroke-width="1" opacity=".55"/>'
    "</pattern></defs>"
)


class Plot(Protocol):
    """What a strip across the plot needs to know of it."""

    @property
    def left(self) -> float: ...
    @property
    def right(self) -> float: ...
    @property
    def top(self) -> float: ...
    @property
    def bottom(self) -> float: ...
    @property
    def window_row(self) -> float: ...
    def x(self, day: date) -> float: ...


def svg(layers: Iterable[str], *, width: int, height: int, title: str, told: str, name: str) -> str:
    """One whole picture with its text alternative; ``name`` is its own on the page."""
    # Two pictures of one page must not share patterns: those of a hidden one are not painted.
    defs = DEFS.replace('id="', f'id="{name}-')
    drawn = "".join(layers).replace("url(#", f"url(#{name}-")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img" '
        f'aria-labelledby="{name}-title {name}-told" font-family="{FONT}" font-size="15" '
        f'fill="{INK}"><title id="{name}-title">{escape(title)}</title>'
        f'<desc id="{name}-told">{escape(told)}</desc>{defs}'
        f'<rect width="{width}" height="{height}" fill="{PAPER}"/>{drawn}</svg>'
    )


def text(
    x: float, y: float, words: str, *, anchor: str = "start", bold: bool = False, halo: bool = False
) -> str:
    """Words; ``halo`` keeps them readable on top of lines and patterns."""
    weight = ' font-weight="700"' if bold else ""
    edge = f' fill="{PAPER}" stroke="{PAPER}" stroke-width="5"'
    place = f'x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}"'
    # A text below the text: not every renderer paints a stroke first when asked to.
    below = f'<text {place}{weight}{edge} aria-hidden="true">{escape(words)}</text>' if halo else ""
    return f"{below}<text {place}{weight}>{escape(words)}</text>"


def line(
    x1: float,
    y1: float,
    x2: float,
    y2: float,
    *,
    colour: str,
    width: float = 1,
    dashes: str = "",
    faint: float = 1,
) -> str:
    """A straight line."""
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}" stroke="{colour}" '
        f'stroke-width="{width}" opacity="{faint}"{dashed}/>'
    )


def path(points: Sequence[Point], *, colour: str, width: float) -> str:
    """A line through points."""
    return (
        f'<polyline points="{_points(points)}" fill="none" stroke="{colour}" '
        f'stroke-width="{width}" stroke-linejoin="round" stroke-linecap="round"/>'
    )


def area(points: Sequence[Point], *, mark: str) -> str:
    """A filled band, its edge a thin line."""
    return (
        f'<polygon points="{_points(points)}" fill="{FILLS[mark]}" fill-opacity=".88" '
        f'stroke="{WATER}" stroke-width=".8"/>'
    )


def mark(shape: str, x: float, y: float, *, scale: float = 1) -> str:
    """A small mark about ``(x, y)``: what was made, or a night's kind."""
    return f'<g transform="translate({x:.1f} {y:.1f}) scale({scale:g})">{MARKS[shape]}</g>'


def window(plot: Plot, first: date, last: date, *, pattern: str, row: int, words: str) -> list[str]:
    """An upright strip from one day to another, with its words before its bracket.

    Where they do not fit before it they stand above it.
    """
    x1, x2 = plot.x(first), max(plot.x(last), plot.x(first) + 3)
    y = plot.top - 26 - plot.window_row * row
    if x1 - 8 > words_wide(words):
        place = text(x1 - 8, y + 5, words, anchor="end")
    else:
        place = text(max(x2, words_wide(words)), y - 8, words, anchor="end", halo=True)
    colour = REED if pattern == "ready" else WATER
    return [
        f'<rect x="{x1:.1f}" y="{plot.top:.1f}" width="{x2 - x1:.1f}" '
        f'height="{plot.bottom - plot.top:.1f}" fill="url(#{pattern})"/>',
        line(x1, y, x1, plot.bottom, colour=colour, width=1.5),
        line(x2, y, x2, plot.bottom, colour=colour, width=1.5),
        line(x1, y, x2, y, colour=colour, width=4),
        place,
    ]


def words_wide(words: str) -> float:
    """About how wide words stand, in units of the view box."""
    return 7.0 * len(words)


def rows_of(key: Sequence[Key], *, width: float) -> list[list[Key]]:
    """The key's entries, as many to a row as fit."""
    rows: list[list[Key]] = []
    used = width
    for entry in key:
        if used + _wide(entry) > width:
            rows.append([])
            used = 0.0
        rows[-1].append(entry)
        used += _wide(entry)
    return rows


def key_rows(rows: Sequence[Sequence[Key]], *, top: float, left: float) -> list[str]:
    """The key: each mark with its words."""
    drawn = []
    for number, row in enumerate(rows):
        x, y = left, top + ROW * number
        for entry in row:
            shape, words = entry
            drawn += [_sample(shape, x, y), text(x + 30, y + 5, words)]
            x += _wide(entry)
    return drawn


def _sample(shape: str, x: float, y: float) -> str:
    if shape in FILLS:
        return (
            f'<rect x="{x:.1f}" y="{y - 7:.1f}" width="24" height="14" fill="{FILLS[shape]}" '
            f'stroke="{WATER}" stroke-width=".8"/>'
        )
    if shape == "middle":
        return line(x, y, x + 24, y, colour=INK, width=3)
    return mark(shape, x + 12, y)


def _wide(entry: Key) -> float:
    return 30 + words_wide(entry[1]) + 16


def _points(points: Sequence[Point]) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
