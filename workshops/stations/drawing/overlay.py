"""One revision of a part over another: the old dashed in grey, the new in black."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.measures.lengths import Units
from workshops.stations.drawing.canvas import (
    BODY_MM,
    HEADING_MM,
    SMALL_MM,
    WIDTH_MM,
    Anchor,
    Canvas,
    Pen,
    Point,
    text_width,
    wrapped,
)
from workshops.stations.drawing.moved import Moved, moved_on
from workshops.stations.drawing.profile import bent
from workshops.stations.drawing.strip import LEFT_MM, LONGEST_MM, THICK_MM, scale_for
from workshops.stations.geometry.parts import Part, SectionKind
from workshops.stations.geometry.sheet import Sheet

_ROW_MM, _RING_MM = 8.0, 3.2
_TOP_MM = 17.0
_BENT_WIDE_MM, _BENT_TALL_MM = 130.0, 55.0
_MESH_TALL_MM = 60.0


def draw_overlay(item: str, old: Sheet, new: Sheet, units: Units, *, told: Sequence[str]) -> str:
    """A part of both sheets as SVG, what moved numbered and said in words below.

    Parameters
    ----------
    told
        What else changed, in words: they stand below, and in the drawing's text.

    Raises
    ------
    KeyError
        When one of the sheets has no such part.
    """
    was, now = old.part(item), new.part(item)
    moved = moved_on(item, old, new, units)
    words = [*(one.words for one in moved), *told]
    title = f"{now.name}, rev {new.revision} over rev {old.revision}"
    one_to = scale_for(max(was.length_um, now.length_um), LONGEST_MM)
    canvas = Canvas(title, "; ".join(words) + ".", one_to * 1_000, LEFT_MM)
    # A long name is set smaller, so that both revisions stay on the sheet.
    fits = HEADING_MM * (WIDTH_MM - 2 * LEFT_MM) / text_width(title, HEADING_MM, bold=True)
    canvas.text((LEFT_MM, 7), title, size=max(SMALL_MM, min(HEADING_MM, fits)), bold=True)
    _legend(canvas, old.revision, new.revision)
    if now.section.kind is SectionKind.WIRE_MESH:
        bottom = _meshes(canvas, was, now, moved)
    else:
        bottom = _strips(canvas, was, now, moved)
    if was.bends or now.bends:
        bottom = _bent(canvas, was, now, bottom + 5)
    return canvas.to_svg(_list(canvas, moved, told, bottom + 8))


def _legend(canvas: Canvas, old: str, new: str) -> None:
    canvas.line((LEFT_MM, 12), (LEFT_MM + 14, 12), Pen.OLD)
    canvas.text((LEFT_MM + 16, 13.3), f"rev {old}, no longer so")
    canvas.line((LEFT_MM + 66, 12), (LEFT_MM + 80, 12), Pen.OUTLINE)
    canvas.text((LEFT_MM + 82, 13.3), f"rev {new}")


def _strips(canvas: Canvas, was: Part, now: Part, moved: Sequence[Moved]) -> float:
    """Both laid on their side, end A over end A, and a row above for each that moved."""
    top = _TOP_MM + _ROW_MM * len(moved) + 3
    middle = top + THICK_MM / 2
    # A thicker stock looks thicker; how much is in the words.
    share = min(1.4, was.section.outside_um / (now.section.outside_um or 1))
    for part, pen, thick in ((was, Pen.OLD, THICK_MM * share), (now, Pen.OUTLINE, THICK_MM)):
        size = (part.length_um / canvas.um_per_mm, thick)
        canvas.rect((LEFT_MM, middle - thick / 2), size, pen)
        for hole in part.holes:
            radius = _radius(part, hole.diameter_um)
            place = (_x(canvas, hole.from_end_um), middle)
            data = {"um": hole.from_end_um, "rev": "old" if part is was else "new"}
            canvas.circle(place, radius, pen, data=data)
        for bend in part.bends:
            x = _x(canvas, bend.at_um)
            canvas.line((x, middle - thick / 2 - 1.5), (x, middle + thick / 2 + 1.5), pen)
    for number, one in enumerate(moved, start=1):
        _mark(canvas, one, number, _TOP_MM + _ROW_MM * (number - 0.5), middle)
    canvas.text((LEFT_MM, middle + THICK_MM * 0.7 + 5), f"from the {now.end_name}")
    return middle + THICK_MM * 0.7 + 6


def _mark(canvas: Canvas, one: Moved, number: int, y: float, middle: float) -> None:
    """From where it was to where it is, and its number; a cross over what is taken off."""
    was = None if one.was_um is None else _x(canvas, one.was_um)
    now = None if one.now_um is None else _x(canvas, one.now_um)
    if was is not None:
        canvas.line((was, y), (was, middle), Pen.OLD)
    if now is not None:
        data = {"moved-um": one.now_um or 0, "number": number}
        canvas.line((now, y), (now, middle), Pen.THIN, data)
    elif was is not None:
        for side in (-1, 1):
            canvas.line(
                (was - 2.6, middle - 2.6 * side), (was + 2.6, middle + 2.6 * side), Pen.HEAVY
            )
    if was is not None and now is not None:
        canvas.line((was, y), (now, y), Pen.THIN)
    at = now if now is not None else was or 0.0
    _ring(canvas, (at, y), number)


def _bent(canvas: Canvas, was: Part, now: Part, top: float) -> float:
    """Both as they look when bent, middle over middle."""
    shapes = [bent(part) for part in (was, now)]
    wide = max(shape.size_um[0] for shape in shapes)
    tall = max(shape.size_um[1] for shape in shapes)
    per_mm = 1_000 * max(scale_for(wide, _BENT_WIDE_MM), scale_for(tall, _BENT_TALL_MM))
    low = min(shape.low for shape in shapes)
    bottom = top + tall / per_mm
    for shape, pen in zip(shapes, (Pen.OLD, Pen.OUTLINE), strict=True):
        centre = (shape.left + shape.right) / 2
        # Foot over foot: a rod stands on its middle, which lies level.
        rise = shape.low - low
        way = [
            (WIDTH_MM / 2 + (x - centre) / per_mm, bottom - (y - low - rise) / per_mm)
            for x, y in shape.way
        ]
        canvas.path(way, pen)
    return bottom + 2


def _meshes(canvas: Canvas, was: Part, now: Part, moved: Sequence[Moved]) -> float:
    """Both pieces flat, one corner over the other; only its length can have moved."""
    widest, top = max(was.width_um, now.width_um), _TOP_MM + 5
    per_mm = max(canvas.um_per_mm, 1_000 * scale_for(widest, _MESH_TALL_MM))
    for part, pen in ((was, Pen.OLD), (now, Pen.OUTLINE)):
        canvas.rect((LEFT_MM, top), (part.length_um / per_mm, part.width_um / per_mm), pen)
    for number, _ in enumerate(moved, start=1):
        _ring(canvas, (LEFT_MM + now.length_um / per_mm, top), number)
    return top + widest / per_mm


def _ring(canvas: Canvas, place: Point, number: int) -> None:
    canvas.circle(place, _RING_MM, Pen.OUTLINE, fill="#fff")
    canvas.text((place[0], place[1] + 1.4), str(number), anchor=Anchor.MIDDLE, bold=True)


def _list(canvas: Canvas, moved: Sequence[Moved], told: Sequence[str], y: float) -> float:
    """What moved, by its number, then the rest in words."""
    numbered: list[tuple[str, str]] = [
        (str(number), one.words) for number, one in enumerate(moved, start=1)
    ]
    for number, words in [*numbered, *(("", each) for each in told)]:
        if number:
            canvas.circle((LEFT_MM + 3.2, y - 1.4), _RING_MM, Pen.THIN)
            canvas.text((LEFT_MM + 3.2, y), number, anchor=Anchor.MIDDLE, bold=True)
        for line in wrapped(words, 138):
            canvas.text((LEFT_MM + 9, y), line)
            y += BODY_MM * 1.25
        y += 2.6
    note = "Positions to one scale. Build from the drawing in force, not from this."
    canvas.text((LEFT_MM, y + 1), note, size=SMALL_MM)
    return y + 4


def _x(canvas: Canvas, at_um: int) -> float:
    return canvas.origin_mm + at_um / canvas.um_per_mm


def _radius(part: Part, diameter_um: int) -> float:
    return max(0.9, min(diameter_um / part.section.outside_um, 0.9) * THICK_MM / 2)
