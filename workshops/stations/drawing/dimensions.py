"""Dimension lines: arrows, numbers that stay clear of them, call-outs with a leader."""

from __future__ import annotations

from collections.abc import Sequence

from workshops.stations.drawing.canvas import (
    BODY_MM,
    WIDTH_MM,
    Anchor,
    Canvas,
    Data,
    Pen,
    Point,
    text_width,
)

ROW_MM = 6.6  # one dimension below another
_ARROW, _HALF = 2.4, 0.65


def across(
    canvas: Canvas,
    ends: tuple[float, float],
    line_y: float,
    words: str,
    *,
    from_y: float,
    data: Data | None = None,
) -> None:
    """A level dimension between two uprights, its number above the line.

    When the number does not fit between the arrows it stands to the right of them, on a
    line of its own, and the arrows point inward from outside if they too lack room.
    """
    left, right = ends
    down = 1.2 if line_y > from_y else -1.2
    for x in ends:
        canvas.line((x, from_y), (x, line_y + down), Pen.THIN)
    has_arrows = right - left > 2.6 * _ARROW
    if has_arrows:
        canvas.line((left, line_y), (right, line_y), Pen.THIN, data)
        _arrow(canvas, (left, line_y), -1)
        _arrow(canvas, (right, line_y), 1)
    else:
        canvas.line((left - 4.5, line_y), (right + 4.5, line_y), Pen.THIN, data)
        _arrow(canvas, (left, line_y), 1)
        _arrow(canvas, (right, line_y), -1)
    if has_arrows and text_width(words) + 1 < right - left:
        middle, wide = (left + right) / 2, text_width(words)
        canvas.blank((middle - wide / 2, line_y - 1 - BODY_MM * 0.78), (wide, BODY_MM * 0.85))
        canvas.text((middle, line_y - 1.1), words, anchor=Anchor.MIDDLE)
    else:
        start = right + (1.5 if has_arrows else 5.2)
        cleared(canvas, (start, line_y + 1.3), words)


def upright(
    canvas: Canvas, ends: tuple[float, float], line_x: float, words: str, *, from_x: float
) -> None:
    """An upright dimension between two levels, its number to the right of the line."""
    top, bottom = ends
    out = 1.2 if line_x > from_x else -1.2
    for y in ends:
        canvas.line((from_x, y), (line_x + out, y), Pen.THIN)
    if bottom - top > 2.6 * _ARROW:
        canvas.line((line_x, top), (line_x, bottom), Pen.THIN)
        _arrow_up(canvas, (line_x, top), -1)
        _arrow_up(canvas, (line_x, bottom), 1)
    else:
        canvas.line((line_x, top - 4.5), (line_x, bottom + 4.5), Pen.THIN)
        _arrow_up(canvas, (line_x, top), 1)
        _arrow_up(canvas, (line_x, bottom), -1)
    cleared(canvas, (line_x + 1.6, (top + bottom) / 2 + 1.3), words)


def call_out(canvas: Canvas, tips: Sequence[Point], level_y: float, words: str) -> None:
    """One text for several places: words on a level line, a leader down from it to each."""
    first, last = min(x for x, _ in tips), max(x for x, _ in tips)
    width = text_width(words)
    start = min(first, WIDTH_MM - 4 - width)
    canvas.line((start, level_y), (max(last, start + width), level_y), Pen.THIN)
    for tip in tips:
        canvas.line((tip[0], level_y), tip, Pen.THIN)
        canvas.polygon(((tip[0] - 0.6, tip[1] - 2), (tip[0] + 0.6, tip[1] - 2), tip))
    cleared(canvas, (start + 0.8, level_y - 1.2), words)


def levels_of(spans: Sequence[tuple[float, float]]) -> list[int]:
    """A level for each level stretch, the lowest on which it touches none before it."""
    ends: list[float] = []
    found = []
    for start, end in spans:
        level = next((i for i, taken in enumerate(ends) if taken <= start), len(ends))
        ends[level : level + 1] = [end]
        found.append(level)
    return found


def balloon(canvas: Canvas, place: Point, number: int, tip: Point) -> None:
    """A number in a ring with a line to what it numbers."""
    canvas.line(place, tip, Pen.THIN)
    canvas.circle(tip, 0.6, Pen.HAIR, fill="#000")
    canvas.circle(place, 3.2, Pen.THIN, fill="#fff")
    canvas.text((place[0], place[1] + 1.4), str(number), anchor=Anchor.MIDDLE, bold=True)


def weld_mark(canvas: Canvas, corner: Point, to_right: int, down: int) -> None:
    """A fillet seen end on: a filled triangle in the corner of two parts."""
    x, y = corner
    canvas.polygon(((x, y), (x + 2.2 * to_right, y), (x, y + 2.2 * down)))


def cleared(canvas: Canvas, place: Point, words: str) -> None:
    """Words on a cleared patch, where lines may already run."""
    canvas.blank((place[0] - 0.3, place[1] - BODY_MM * 0.78), (text_width(words), BODY_MM))
    canvas.text(place, words)


def _arrow(canvas: Canvas, tip: Point, to_right: int) -> None:
    x, y = tip
    back = x - _ARROW * to_right
    canvas.polygon(((x, y), (back, y - _HALF), (back, y + _HALF)))


def _arrow_up(canvas: Canvas, tip: Point, down: int) -> None:
    x, y = tip
    back = y - _ARROW * down
    canvas.polygon(((x, y), (x - _HALF, back), (x + _HALF, back)))
