"""The roll cut through, and the wire piece laid flat with the marks to roll it by."""

from __future__ import annotations

import math
from collections.abc import Iterator

from inventory.measures.lengths import Units, spell_length
from workshops.stations.drawing.canvas import (
    BODY_MM,
    HEADING_MM,
    SMALL_MM,
    WIDTH_MM,
    Anchor,
    Canvas,
    Data,
    Pen,
    Point,
    text_width,
    wrapped,
)
from workshops.stations.drawing.dimensions import ROW_MM, across, balloon
from workshops.stations.drawing.spelling import spell_long
from workshops.stations.drawing.strip import LEFT_MM, scale_for
from workshops.stations.geometry.roll import RollShape, shape_of
from workshops.stations.geometry.sheet import RollSpec

_WIDEST_MM = 70.0
_MIDDLE: Point = (43.0, 51.0)
_LIST_MM, _LIST_WIDTH_MM = 92.0, 58.0
_GOLDEN = math.pi * (3 - math.sqrt(5))  # spreads strokes evenly without a random number
_STRIP_MM = 8.0


def draw_roll_section(roll: RollSpec, units: Units) -> str:
    """The roll as SVG: first turn, straw, outer turn, overlap, hay, and the flat piece."""
    shape = shape_of(roll)
    one_to = scale_for(shape.outside_um, _WIDEST_MM)
    canvas = Canvas("Roll, cut through", _told(roll, shape, units), one_to * 1_000, _MIDDLE[0])
    canvas.text((LEFT_MM, 7), "Roll, cut through", size=HEADING_MM, bold=True)
    inner, outer = (size / 2 / canvas.um_per_mm for size in (shape.inside_um, shape.outside_um))
    _filling(canvas, inner, outer)
    _turns(canvas, shape, inner, outer)
    _measures(canvas, shape, inner, outer, units)
    list_end = _list(canvas, roll, shape, units)
    top = max(_MIDDLE[1] + outer + 3 * ROW_MM, list_end)
    bottom = _flat(canvas, roll, shape, top, units)
    note = f"Section 1 : {one_to} at 160 mm wide. Work to the numbers."
    canvas.text((LEFT_MM, bottom + 6), note, size=SMALL_MM)
    return canvas.to_svg(bottom + 8)


def _filling(canvas: Canvas, inner: float, outer: float) -> None:
    """Straw as strokes along the turn, hay as strokes every way."""
    canvas.circle(_MIDDLE, outer, Pen.HAIR, fill="#e6e6e6")
    canvas.circle(_MIDDLE, inner, Pen.HAIR, fill="#fff")
    for number in range(90):
        share = (number + 0.5) / 90
        radius, angle = math.sqrt(inner**2 + (outer**2 - inner**2) * share), number * _GOLDEN
        lean = angle + math.pi / 2 + 0.2 * math.sin(5 * number)
        _stroke(canvas, _polar(radius, angle), lean, 2.6)
    for number in range(60):
        radius, angle = (inner - 2) * math.sqrt((number + 0.5) / 60), number * _GOLDEN
        _stroke(canvas, _polar(radius, angle), 3 * angle, 2.0)


def _turns(canvas: Canvas, shape: RollShape, inner: float, outer: float) -> None:
    first: Data = {"turn": "first", "radius-um": shape.inside_um // 2}
    canvas.circle(_MIDDLE, inner, Pen.HEAVY, data={**first, "around-um": _around(shape.inside_um)})
    second: Data = {"turn": "outer", "radius-um": shape.outside_um // 2}
    canvas.circle(_MIDDLE, outer, Pen.HEAVY, data={**second, "around-um": shape.outer_turn_um})
    top = math.pi / 2
    canvas.line(_polar(inner, top), _polar(outer, top - 0.35), Pen.HEAVY)
    if shape.overlap_um > 0:
        sweep = shape.overlap_um / (shape.outside_um / 2)
        arc = [_polar(outer + 1.5, top - 0.35 - sweep * step / 20) for step in range(21)]
        canvas.path(arc, Pen.HEAVY)
        canvas.circle(_polar(outer + 0.75, top - 0.35 - sweep * 0.8), 1.7, Pen.OUTLINE)


def _measures(canvas: Canvas, shape: RollShape, inner: float, outer: float, units: Units) -> None:
    x, y = _MIDDLE
    words = spell_length(shape.inside_um, units)
    across(canvas, (x - inner, x + inner), y + 4, words, from_y=y)
    words = f"{spell_length(shape.outside_um, units)} over all"
    line_y = y + outer + ROW_MM + 2
    across(canvas, (x - outer, x + outer), line_y, words, from_y=y + outer * 0.4)


def _list(canvas: Canvas, roll: RollSpec, shape: RollShape, units: Units) -> float:
    """Numbers on the drawing and their words beside it; gives where the words end."""
    inner, outer = (size / 2 / canvas.um_per_mm for size in (shape.inside_um, shape.outside_um))
    middle = (inner + outer) / 2
    tips = (
        _polar(inner, math.radians(150)),
        _polar(middle, math.radians(195)),
        _polar(outer, math.radians(20)),
        _polar(outer + 1.5, math.radians(58)),
        _polar(inner * 0.55, math.radians(115)),
    )
    places = (
        _polar(inner - 8, math.radians(150)),
        (_MIDDLE[0] - outer - 2.5, _MIDDLE[1] + outer * 0.62),
        _polar(outer + 6, math.radians(12)),
        _polar(outer + 7, math.radians(45)),
        _polar(inner * 0.3, math.radians(60)),
    )
    y = 18.0
    for number, words in enumerate(_words(roll, shape, units), start=1):
        balloon(canvas, places[number - 1], number, tips[number - 1])
        canvas.circle((_LIST_MM, y - 1.4), 3.2, Pen.THIN)
        canvas.text((_LIST_MM, y), str(number), anchor=Anchor.MIDDLE, bold=True)
        for line in wrapped(words, _LIST_WIDTH_MM):
            canvas.text((_LIST_MM + 5, y), line)
            y += BODY_MM * 1.2
        y += 3.4
    return y


def _words(roll: RollSpec, shape: RollShape, units: Units) -> Iterator[str]:
    inside = spell_length(shape.inside_um, units)
    yield f"First turn: close it {spell_length(roll.ring_um, units)} around, {inside} inside"
    yield f"Straw, {spell_length(roll.layer_um, units)} thick all round"
    yield f"Outer turn: {spell_length(shape.outer_turn_um, units)} around"
    rings = (
        f"{roll.rings_min} to {roll.rings_max} hog rings along {spell_long(roll.width_um, units)}"
    )
    if shape.overlap_um > 0:
        yield f"Overlap {spell_length(shape.overlap_um, units)}, {rings}"
    else:
        yield f"No overlap: {spell_length(-shape.overlap_um, units)} of wire is missing. {rings}"
    yield f"Nest hay, soft, {roll.fill_percent} % of the inside"


def _flat(canvas: Canvas, roll: RollSpec, shape: RollShape, top: float, units: Units) -> float:
    """The wire piece as a strip, with the marks where a turn ends."""
    one_to = scale_for(roll.piece_length_um)
    canvas.text((LEFT_MM, top), "Wire piece, flat", bold=True)
    y = top + 2.5
    turned = min(roll.ring_um + shape.outer_turn_um, roll.piece_length_um)
    marks = (0, roll.ring_um, turned, roll.piece_length_um)
    places = [LEFT_MM + at / (one_to * 1_000) for at in marks]
    canvas.rect((LEFT_MM, y), (places[3] - LEFT_MM, _STRIP_MM), Pen.OUTLINE, fill="#fff")
    canvas.rect((places[1], y), (places[2] - places[1], _STRIP_MM), Pen.THIN, fill="#e6e6e6")
    for at, x in zip(marks, places, strict=True):
        data: Data = {"um": at, "um-per-mm": one_to * 1_000}
        canvas.line((x, y - 1), (x, y + _STRIP_MM + 1), Pen.OUTLINE, data)
    for words, ends in (("first turn", places[:2]), ("outer turn, over straw", places[1:3])):
        if text_width(words) < ends[1] - ends[0]:  # a stretch too short has no room for its name
            canvas.text((sum(ends) / 2, y + 5.4), words, anchor=Anchor.MIDDLE)
    if places[3] > places[2]:
        right = WIDTH_MM - 3 - text_width("overlap")
        canvas.text((min(places[2] + 1.5, right), y - 2.2), "overlap")
    line_y = y + _STRIP_MM
    for at, x in zip(marks[1:], places[1:], strict=True):
        line_y += ROW_MM
        across(canvas, (LEFT_MM, x), line_y, spell_length(at, units), from_y=y + _STRIP_MM)
    return line_y


def _told(roll: RollSpec, shape: RollShape, units: Units) -> str:
    return "; ".join(_words(roll, shape, units)) + "."


def _stroke(canvas: Canvas, middle: Point, angle: float, length: float) -> None:
    along = length / 2 * math.cos(angle), length / 2 * math.sin(angle)
    start = middle[0] - along[0], middle[1] + along[1]
    canvas.line(start, (middle[0] + along[0], middle[1] - along[1]), Pen.HAIR)


def _polar(radius: float, angle: float) -> Point:
    return _MIDDLE[0] + radius * math.cos(angle), _MIDDLE[1] - radius * math.sin(angle)


def _around(diameter_um: int) -> int:
    return round(diameter_um * math.pi)
