"""A whole set pulled apart: cylinder, head, pin, and post or stand, with a parts list."""

from __future__ import annotations

import math
from dataclasses import dataclass

from inventory.measures.lengths import Units, spell_length
from workshops.stations.drawing.canvas import (
    BODY_MM,
    HEADING_MM,
    SMALL_MM,
    Anchor,
    Canvas,
    Pen,
    Point,
    wrapped,
)
from workshops.stations.drawing.dimensions import balloon
from workshops.stations.drawing.head_view import (
    Head,
    HeadPlace,
    broken_off,
    draw_end,
    draw_side,
    head_of,
)
from workshops.stations.drawing.profile import stroke_part
from workshops.stations.drawing.spelling import spell_long
from workshops.stations.drawing.strip import LEFT_MM, scale_for
from workshops.stations.geometry.fit import height_settings
from workshops.stations.geometry.parts import Part, PartRole
from workshops.stations.geometry.roll import shape_of
from workshops.stations.geometry.sheet import LegsSpec, Sheet

_SIDE_MM, _SIDE_MIDDLE = 62.0, 40.0
_END_MIDDLE = 93.0
_LIST_MM, _LIST_WIDTH_MM = 123.0, 34.0
_TALL_MM, _GAP_MM = 96.0, 9.0
_FOOT_MM = 34.0  # of the post or the legs
_TOP_MM = 13.0


@dataclass(frozen=True, slots=True)
class _Levels:
    """The heights on the paper at which the pieces hang, from the top down."""

    cylinder: float
    bar: float
    foot: float
    bottom: float
    per_mm: int


def draw_set(sheet: Sheet, units: Units) -> str:
    """The set as SVG, from the side and along the cylinder, its parts numbered and listed.

    What the sheet lacks is left out; a sheet without a head still gives its parts list.
    """
    head = head_of(sheet)
    levels = _levels(sheet, head)
    told = "; ".join(_listed(part, units) for part in sheet.parts) + "."
    canvas = Canvas(f"{sheet.name}, pulled apart", told, levels.per_mm, LEFT_MM)
    canvas.text((LEFT_MM, 7), sheet.name, size=HEADING_MM, bold=True)
    if head:
        _centre_lines(canvas, levels)
        _cylinder(canvas, sheet, levels)
        _foot(canvas, sheet, levels)
        _head(canvas, head, levels)
        _numbers(canvas, sheet, head, levels)
    bottom = max(_parts_list(canvas, sheet, units), levels.bottom if head else 0) + 8
    for line in _notes(sheet, levels.per_mm // 1_000, units):
        canvas.text((LEFT_MM, bottom), line, size=SMALL_MM)
        bottom += SMALL_MM * 1.25
    return canvas.to_svg(bottom)


def _levels(sheet: Sheet, head: Head | None) -> _Levels:
    across = shape_of(sheet.roll).outside_um if sheet.roll else 0
    tall = across + (head.height_um if head else 0)
    reach = max(head.stem_at_um, head.bar.length_um - head.stem_at_um) if head else 0
    wide = max(sheet.roll.width_um if sheet.roll else 0, 2 * reach)
    per_mm = 1_000 * max(scale_for(tall or 1, _TALL_MM), scale_for(wide or 1, _SIDE_MM))
    bar = _TOP_MM + across / per_mm + (_GAP_MM if across else 0)
    if head is None:
        return _Levels(_TOP_MM, bar, bar, bar, per_mm)
    bar += head.rise_um / per_mm
    stem_end = bar + (head.height_um - head.rise_um) / per_mm
    foot = stem_end + _GAP_MM
    return _Levels(_TOP_MM, bar, foot, foot + _FOOT_MM, per_mm)


def _centre_lines(canvas: Canvas, levels: _Levels) -> None:
    for x in (_SIDE_MIDDLE, _END_MIDDLE):
        canvas.line((x, levels.cylinder - 3), (x, levels.bottom + 2), Pen.CENTRE)


def _cylinder(canvas: Canvas, sheet: Sheet, levels: _Levels) -> None:
    if sheet.roll is None:
        return
    shape = shape_of(sheet.roll)
    tall, wide = shape.outside_um / levels.per_mm, sheet.roll.width_um / levels.per_mm
    left = _SIDE_MIDDLE - wide / 2
    canvas.rect((left, levels.cylinder), (wide, tall), Pen.OUTLINE, fill="#e6e6e6")
    ringed = levels.cylinder + tall * 0.3
    canvas.line((left, ringed), (left + wide, ringed), Pen.THIN)
    for number in range(sheet.roll.rings_min):
        share = number / max(1, sheet.roll.rings_min - 1)
        canvas.circle((left + 1.2 + (wide - 2.4) * share, ringed), 0.8, Pen.THIN, fill="#fff")
    middle = (_END_MIDDLE, levels.cylinder + tall / 2)
    canvas.circle(middle, tall / 2, Pen.OUTLINE, fill="#e6e6e6")
    canvas.circle(middle, shape.inside_um / levels.per_mm / 2, Pen.OUTLINE, fill="#fff")


def _head(canvas: Canvas, head: Head, levels: _Levels) -> None:
    draw_side(canvas, head, _side_place(head, levels), head.stem.length_um)
    draw_end(canvas, head, HeadPlace((_END_MIDDLE, levels.bar), levels.per_mm), head.stem.length_um)


def _side_place(head: Head, levels: _Levels) -> HeadPlace:
    left = _SIDE_MIDDLE - head.stem_at_um / levels.per_mm
    return HeadPlace((left, levels.bar), levels.per_mm)


def _foot(canvas: Canvas, sheet: Sheet, levels: _Levels) -> None:
    """The post, broken off below, or the socket between its legs."""
    uprights = sheet.parts_in_role(PartRole.POST) or sheet.parts_in_role(PartRole.SOCKET)
    if sheet.legs:
        _legs(canvas, sheet, sheet.legs, levels)
    for x in (_SIDE_MIDDLE, _END_MIDDLE):
        for part in uprights[:1]:
            _upright(canvas, part, x, levels)


def _upright(canvas: Canvas, part: Part, middle: float, levels: _Levels) -> None:
    wide = part.section.outside_um / levels.per_mm
    tall = min(part.length_um / levels.per_mm, levels.bottom - levels.foot)
    canvas.rect((middle - wide / 2, levels.foot), (wide, tall), Pen.OUTLINE, fill="#fff")
    for at in part.pin_holes_um():
        canvas.circle((middle, levels.foot + at / levels.per_mm), 0.8, Pen.OUTLINE, fill="#fff")
    if tall < part.length_um / levels.per_mm:
        low = levels.foot + tall
        broken_off(canvas, (middle - wide / 2, low), (middle + wide / 2, low))


def _legs(canvas: Canvas, sheet: Sheet, legs: LegsSpec, levels: _Levels) -> None:
    """From each side two legs lean away and one comes forward, seen as upright."""
    leg, top, spread = _leg_run(sheet, legs, levels)
    reach = (levels.bottom - top) * spread
    thick = leg.section.outside_um / levels.per_mm
    for middle in (_SIDE_MIDDLE, _END_MIDDLE):
        for side in (-1, 1):
            foot = (middle + side * reach, levels.bottom)
            stroke_part(canvas, [(middle, top), foot], thick)
            broken_off(canvas, (foot[0] - thick / 2, foot[1]), (foot[0] + thick / 2, foot[1]))
        stroke_part(canvas, [(middle, top), (middle, levels.bottom - 3)], thick)


def _leg_run(sheet: Sheet, legs: LegsSpec, levels: _Levels) -> tuple[Part, float, float]:
    """The leg, the height on the paper at which it is held, and its spread for each mm down."""
    leg = sheet.part(legs.part)
    held = next((joint.at_um for joint in sheet.joints if joint.part == leg.item), 0)
    return leg, levels.foot + held / levels.per_mm, math.tan(math.radians(legs.lean_deg))


def _numbers(canvas: Canvas, sheet: Sheet, head: Head, levels: _Levels) -> None:
    """A balloon for every part that shows, numbered as the list is."""
    for number, part in enumerate(sheet.parts, start=1):
        tip = _tip(sheet, part, head, levels)
        if tip:
            balloon(canvas, (tip[0] + 9, tip[1] + 5), number, tip)


def _tip(sheet: Sheet, part: Part, head: Head, levels: _Levels) -> Point | None:
    """Where a part shows from the side; ``None`` when it is not drawn."""
    place = _side_place(head, levels)
    deep = head.bar.section.outside_um
    if part.role is PartRole.BAR:
        return place.at(head.bar.length_um * 0.3, deep / 2)
    if part.role is PartRole.STEM:
        return place.at(head.stem_at_um, deep + head.stem.length_um * 0.3)
    if part.role is PartRole.CRADLE_ROD and head.rod_joints:
        return place.at(head.rod_joints[-1].at_um, -head.rise_um * 0.6)
    if part.role is PartRole.WIRE and sheet.roll:
        outer = shape_of(sheet.roll).outside_um / levels.per_mm
        return _SIDE_MIDDLE + 12, levels.cylinder + outer * 0.6
    if part.role in (PartRole.POST, PartRole.SOCKET):
        return _SIDE_MIDDLE, levels.foot + 4
    if part.role is PartRole.LEG and sheet.legs:
        _, top, spread = _leg_run(sheet, sheet.legs, levels)
        down = (levels.bottom - top) * 0.6
        return _SIDE_MIDDLE + down * spread, top + down
    return None


def _parts_list(canvas: Canvas, sheet: Sheet, units: Units) -> float:
    y = _TOP_MM + 5
    for number, part in enumerate(sheet.parts, start=1):
        canvas.circle((_LIST_MM - 5, y - 1.4), 3.2, Pen.THIN)
        canvas.text((_LIST_MM - 5, y), str(number), anchor=Anchor.MIDDLE, bold=True)
        for place, line in enumerate(_two_lines(part, units)):
            canvas.text((_LIST_MM, y), line, bold=place == 0)
            y += BODY_MM * 1.2
        y += 2.2
    return y


def _two_lines(part: Part, units: Units) -> list[str]:
    named, size = _listed(part, units).rsplit(", ", 1)
    return [named, *wrapped(size, _LIST_WIDTH_MM)]


def _listed(part: Part, units: Units) -> str:
    size = spell_long(part.length_um, units)
    if part.width_um:
        size = f"{size} × {spell_length(part.width_um, units)}"
    return f"{part.count} × {part.name}, {size}"


def _notes(sheet: Sheet, one_to: int, units: Units) -> list[str]:
    notes = [f"1 : {one_to} at 160 mm wide. Long parts are broken off. Work to the numbers."]
    if sheet.fit:
        settings = height_settings(sheet.part(sheet.fit.inner), sheet.part(sheet.fit.outer))
        heights = ", ".join(spell_length(way.height_um, units) for way in settings)
        outer = sheet.part(sheet.fit.outer).name.lower()
        if heights:
            notes.insert(0, f"The bar stands {heights} above the {outer}, by the pin hole chosen.")
    return notes
