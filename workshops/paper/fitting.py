"""Which layout a card gets: heights estimated from its words, on the generous side.

The estimate only chooses where to begin; whether a page really holds is measured when it is
laid out, and the next tighter layout is taken when it does not.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cache, partial
from itertools import product

from workshops.paper.cards import Card
from workshops.paper.layout import SIZES, Format, Layout, Size, Where
from workshops.stations.drawing.canvas import text_width

MM_PER_POINT = 25.4 / 72
# Our letters come out narrower than the drawing's cautious guess at them.
NARROWER = 0.87
SPACE_EMS = 0.22
# Most cards come out a little shorter than estimated: a try too many costs less than small print.
HOPE = 1.02
COLUMNS = (("step", 0.36), ("key_point", 0.34), ("reason", 0.3))
NOTES_MM = 93.0  # the ruled lines of a card without steps

# Standard places first; what stands where it always does is found without searching.
PLACES = tuple(
    product((Where.RAIL, Where.WIDE), (Where.MAIN, Where.RAIL, Where.WIDE), tuple(Where))
)


def layouts(card: Card, on: Format) -> Iterator[Layout]:
    """Ways to lay a card out, from the roomiest that should hold to the tightest there is."""
    is_found = False
    for size in SIZES:
        ways = [Layout(size, on, *places) for places in PLACES]
        fitting = next((way for way in ways if height_mm(card, way) <= on.height_mm * HOPE), None)
        is_found = is_found or fitting is not None or size is SIZES[-1]
        if is_found:
            yield fitting or min(ways, key=partial(height_mm, card))


def height_mm(card: Card, layout: Layout) -> float:
    """About how tall the card comes out."""
    size, across = layout.size, layout.format.width_mm
    column = {Where.MAIN: size.drawing_mm, Where.RAIL: layout.rail_mm, Where.WIDE: across}
    tall = dict.fromkeys(Where, 0.0)
    tall[Where.MAIN] += card.drawing_ratio * size.drawing_mm + (2 if card.drawing else 0)
    tall[Where.RAIL] += _crew(card, size, layout.rail_mm)
    tall[layout.wear] += _wear(card, layout, column[layout.wear])
    if layout.check is layout.care is Where.WIDE:
        halves = _check(card, size, across * 0.42), _care(card, size, across * 0.55)
        tall[Where.WIDE] += max(halves)
    else:
        tall[layout.check] += _check(card, size, column[layout.check])
        tall[layout.care] += _care(card, size, column[layout.care])
    body = max(tall[Where.MAIN], tall[Where.RAIL]) + tall[Where.WIDE]
    body += _steps(card, size, across) if card.steps else NOTES_MM
    return _head(card, size, across) + body + _tally(card, size) + 12.5


def _lines(text: str, width_mm: float, points: float) -> int:
    """How many lines the words take, broken where they must be."""
    room = width_mm / (points * MM_PER_POINT * NARROWER)
    lines, at = 1, 0.0
    for word in text.split():
        wide = _ems(word)
        if at and at + wide > room:
            lines, at = lines + 1, 0.0
        at += wide + SPACE_EMS
    return lines


@cache
def _ems(word: str) -> float:
    return text_width(word, 1.0)


def _text(texts: Iterable[str], width_mm: float, points: float, *, after_mm: float = 0.8) -> float:
    """Height of paragraphs under one another."""
    line = points * MM_PER_POINT * 1.2
    return sum(_lines(text, width_mm, points) * line + after_mm for text in texts)


def _heading(size: Size) -> float:
    return (size.body + 0.5) * MM_PER_POINT * 1.2 + 2.6


def _head(card: Card, size: Size, across: float) -> float:
    points = size.title_points(card.station.name)
    tall = size.tall_mm + (_lines(card.station.name, across - 110, points) - 1) * points * 0.36
    tall += _text([card.trouble], across - 8, 14) + 5 if card.trouble else 0
    return tall + (_text([card.sparks], across - 8, size.body * 1.15) + 4 if card.sparks else 0)


def _crew(card: Card, size: Size, width: float) -> float:
    parted = [
        (f"{line.name} {line.told}",) if size.is_run_in else (line.name, line.told)
        for line in card.crew
    ]
    texts = [text for texts in parted for text in texts]
    return _heading(size) + _text(texts, width, size.body, after_mm=0.5)


def _wear(card: Card, layout: Layout, width: float) -> float:
    each = width / layout.wear_in_a_row - layout.size.icon_mm - 1.5
    shown = [card.wear, card.never] if card.never else [card.wear]
    tall = [
        _heading(layout.size) + _pictures(worn, many, each, layout.size)
        for worn, many in zip(shown, (layout.wear_in_a_row, layout.never_in_a_row), strict=False)
    ]
    if layout.wear is Where.WIDE and card.never:
        half = [card.wear, card.never]
        tall = [max(_heading(layout.size) + _pictures(w, 3, each, layout.size) for w in half)]
    return sum(tall) + 2.5 * len(shown)


def _pictures(worn: Sequence[object], many: int, each_mm: float, size: Size) -> float:
    rows = [worn[at : at + many] for at in range(0, len(worn), many)]
    words = [[getattr(one, "word", "") for one in row] for row in rows]
    line = size.body * MM_PER_POINT * 1.08
    return sum(
        max(size.icon_mm, *(_lines(word, each_mm, size.body) * line for word in row)) + 1
        for row in words
    )


def _check(card: Card, size: Size, width: float) -> float:
    return _heading(size) + _text(card.checks, width - 5, size.body) if card.checks else 0.0


def _care(card: Card, size: Size, width: float) -> float:
    texts = [f"{row['text']} ({row['source']})" for row in card.sourced] + card.practice
    return _heading(size) + _text(texts, width - 5, size.body) if texts else 0.0


def _steps(card: Card, size: Size, across: float) -> float:
    line = size.steps * MM_PER_POINT * 1.15
    if size.is_run_in:
        told = [" ".join(row.values()) for row in card.steps]
        return 6.5 + sum(_lines(text, across - 8, size.steps) * line + 0.6 for text in told)
    room = across - 9
    tall = 8.0
    for row in card.steps:
        deep = (_lines(row.get(k, ""), room * share - 2, size.steps) for k, share in COLUMNS)
        tall += max(deep) * line + 1.6
    return tall


def _tally(card: Card, size: Size) -> float:
    if not card.tally:
        return 0.0
    row = size.box_mm if size.is_run_in else max(size.box_mm, 7.4)
    return _heading(size) + 2 + sum(len(each.lines) * row for each in card.tally)
