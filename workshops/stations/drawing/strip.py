"""A straight part laid on its side: holes called out above, measured from end A below."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from inventory.measures.lengths import Units, spell_length
from workshops.stations.drawing.canvas import WIDTH_MM, Canvas, Data, Pen, text_width
from workshops.stations.drawing.dimensions import ROW_MM, across, call_out, cleared, levels_of
from workshops.stations.drawing.spelling import spell_angle, spell_holes, spell_length_of
from workshops.stations.geometry.parts import Bend, Hole, Part, SectionKind

LEFT_MM, LONGEST_MM = 6.0, 148.0
THICK_MM = 10.0
_LABEL_MM = 4.8


def scale_for(length_um: int, longest_mm: float = LONGEST_MM) -> int:
    """The N of 1 : N at which the length fits, a whole number."""
    return max(1, -(-length_um // int(longest_mm * 1_000)))


def draw_strip(canvas: Canvas, part: Part, top: float, units: Units) -> float:
    """The part as it is marked out before bending; gives where the drawing ends.

    Lengths are to the canvas's scale. Thickness has one of its own, or nothing could be
    seen of a hole in a post.
    """
    groups = list(_alike(part.holes))
    labels = _bend_labels(canvas, part)
    y = (
        top
        + ROW_MM * len(groups)
        + 1.5
        + _LABEL_MM * (1 + max((n for *_, n in labels), default=-1))
    )
    _body(canvas, part, y)
    for level, holes in enumerate(groups):
        middle = y + THICK_MM / 2
        tips = [(_x(canvas, h.from_end_um), middle - _radius(part, h)) for h in holes]
        words = spell_holes(holes[0], len(holes), part, units)
        call_out(canvas, tips, top + ROW_MM * (level + 0.8), words)
    bottom = _measures(canvas, part, y + THICK_MM, units)
    cleared(canvas, (LEFT_MM + 1.2, y + THICK_MM + 4.6), f"from the {part.end_name}")
    return bottom


def _body(canvas: Canvas, part: Part, y: float) -> None:
    right, middle = _x(canvas, part.length_um), y + THICK_MM / 2
    canvas.rect((LEFT_MM, y), (right - LEFT_MM, THICK_MM), Pen.OUTLINE, fill="#fff")
    for at, name in ((0, "end-a"), (part.length_um, "end-b")):
        x = _x(canvas, at)
        canvas.line((x, y), (x, y + THICK_MM), Pen.HEAVY, {"um": at, "edge": name})
    if part.section.kind is not SectionKind.SQUARE_TUBE:
        canvas.line((LEFT_MM - 2, middle), (right + 2, middle), Pen.CENTRE)
    if part.section.wall_um:
        _walls(canvas, part, y, right)
    for hole in part.holes:
        _hole(canvas, part, hole, middle)
    for bend in part.bends:
        x, marks = _x(canvas, bend.at_um), _bend_marks(bend)
        canvas.line((x, y - 1.5), (x, y + THICK_MM + 1), Pen.HIDDEN, marks)
    for words, x, level in _bend_labels(canvas, part):
        cleared(canvas, (x, y - 2.4 - _LABEL_MM * level), words)


def _bend_marks(bend: Bend) -> Data:
    return {"um": bend.at_um, "bend": spell_angle(bend.angle_deg)}


def _bend_labels(canvas: Canvas, part: Part) -> list[tuple[str, float, int]]:
    """The words over each bend, where they start, and how many rows up they stand."""
    bends = sorted(part.bends, key=lambda bend: bend.at_um)
    words = [f"bend {spell_angle(bend.angle_deg)}" for bend in bends]
    widths = [text_width(said) for said in words]
    starts = [
        min(max(1.0, _x(canvas, bend.at_um) - width / 2), WIDTH_MM - 1 - width)
        for bend, width in zip(bends, widths, strict=True)
    ]
    spans = [(start, start + width + 1) for start, width in zip(starts, widths, strict=True)]
    return list(zip(words, starts, levels_of(spans), strict=True))


def _hole(canvas: Canvas, part: Part, hole: Hole, middle: float) -> None:
    x = _x(canvas, hole.from_end_um)
    marks: Data = {
        "um": hole.from_end_um,
        "diameter-um": hole.diameter_um,
        "hole": hole.name or "hole",
    }
    canvas.circle((x, middle), _radius(part, hole), Pen.OUTLINE, fill="#fff", data=marks)
    reach = THICK_MM / 2 - 0.8
    canvas.line((x, middle - reach), (x, middle + reach), Pen.HAIR)


def _walls(canvas: Canvas, part: Part, y: float, right: float) -> None:
    wall = max(THICK_MM * part.section.wall_um / part.section.outside_um, 0.9)
    for at in (y + wall, y + THICK_MM - wall):
        canvas.line((LEFT_MM, at), (right, at), Pen.HIDDEN)


def _measures(canvas: Canvas, part: Part, from_y: float, units: Units) -> float:
    """Every hole and bend from end A, nearest first, and the whole length last."""
    marks = sorted({hole.from_end_um for hole in part.holes} | {bend.at_um for bend in part.bends})
    line_y = from_y + ROW_MM
    for at in marks:
        line_y += ROW_MM
        ends = (LEFT_MM, _x(canvas, at))
        across(
            canvas, ends, line_y, spell_length(at, units), from_y=from_y, data={"dimension-um": at}
        )
    line_y += ROW_MM
    ends = (LEFT_MM, _x(canvas, part.length_um))
    data = {"dimension-um": part.length_um}
    across(canvas, ends, line_y, spell_length_of(part, units), from_y=from_y, data=data)
    return line_y + 2


def _alike(holes: tuple[Hole, ...]) -> Iterator[list[Hole]]:
    """Holes that share one call-out, in the order of their first."""

    def kind(hole: Hole) -> tuple[int, bool, bool, str]:
        return hole.diameter_um, hole.through_both, hole.is_pin, hole.name

    for _, group in groupby(sorted(holes, key=lambda hole: (kind(hole), hole.from_end_um)), kind):
        yield list(group)


def _x(canvas: Canvas, at_um: int) -> float:
    return canvas.origin_mm + at_um / canvas.um_per_mm


def _radius(part: Part, hole: Hole) -> float:
    share = hole.diameter_um / part.section.outside_um
    return max(0.9, min(share, 0.9) * THICK_MM / 2)
