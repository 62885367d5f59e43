"""The head as it is welded or bolted together: where every joint goes."""

from __future__ import annotations

from inventory.measures.lengths import Units, spell_length
from workshops.stations.drawing.canvas import (
    BODY_MM,
    HEADING_MM,
    SMALL_MM,
    WIDTH_MM,
    Anchor,
    Canvas,
    Pen,
    text_width,
    wrapped,
)
from workshops.stations.drawing.dimensions import ROW_MM, across, balloon, levels_of, upright
from workshops.stations.drawing.head_view import (
    Head,
    HeadPlace,
    draw_end,
    draw_side,
    head_of,
    joint_tips,
    mark_joint,
)
from workshops.stations.drawing.strip import LEFT_MM, scale_for
from workshops.stations.geometry.sheet import Joint, Sheet

_SIDE_MM, _END_MM, _TALL_MM = 62.0, 56.0, 80.0
_UP_MM, _BALLOON_MM = 5.0, 7.5
_STEM_SHARE = 3  # the stem is broken off at a third of the bar: its own drawing has the rest


def draw_head(sheet: Sheet, units: Units) -> str:
    """The head as SVG, from the side and from its end, every joint numbered and placed.

    Raises
    ------
    ValueError
        When the sheet has no stem or no bar.
    """
    head = head_of(sheet)
    if head is None:
        raise ValueError("the sheet has no stem and bar, so no head to draw")
    one_to = _scale(head)
    told = "; ".join(_said(sheet, joint, units) for joint in sheet.joints) + "."
    canvas = Canvas(f"Head of {sheet.name}", told, one_to * 1_000, LEFT_MM + 4)
    canvas.text((LEFT_MM, 7), f"Head, {sheet.name}", size=HEADING_MM, bold=True)
    marks = sorted({joint.at_um for joint, _ in joint_tips(sheet, head, HeadPlace((0, 0), 1))})
    rows = _rows(sheet, head, HeadPlace((canvas.origin_mm, 0), canvas.um_per_mm))
    balloons = _UP_MM + _BALLOON_MM * (1 + max(rows.values(), default=0))
    above = max(head.rise_um / canvas.um_per_mm, balloons - ROW_MM)
    bar_top = 16 + ROW_MM * (len(marks) + 1) + above
    side = HeadPlace((canvas.origin_mm, bar_top), canvas.um_per_mm)
    end = HeadPlace((WIDTH_MM - 24 - _END_MM / 2, bar_top), canvas.um_per_mm)
    draw_side(canvas, head, side, _shown_um(head))
    draw_end(canvas, head, end, _shown_um(head))
    _bar_measures(canvas, head, side, marks, units)
    _stem_and_rods(canvas, head, side, end, units)
    bottom = side.at(0, head.bar.section.outside_um + _shown_um(head))[1]
    bottom = _joint_list(canvas, sheet, head, side, bottom + 14, units)
    note = f"1 : {one_to} at 160 mm wide. Work to the numbers."
    canvas.text((LEFT_MM, bottom + 2), note, size=SMALL_MM)
    return canvas.to_svg(bottom + 4)


def _shown_um(head: Head) -> int:
    return min(head.stem.length_um, head.bar.length_um // _STEM_SHARE)


def _scale(head: Head) -> int:
    return max(
        scale_for(head.bar.length_um, _SIDE_MM),
        scale_for(round(2 * max(map(abs, head.reach_um))), _END_MM),
        scale_for(head.rise_um + head.bar.section.outside_um + _shown_um(head), _TALL_MM),
    )


def _bar_measures(
    canvas: Canvas, head: Head, place: HeadPlace, marks: list[int], units: Units
) -> None:
    """Joints from end A of the bar and the whole bar, above the rods."""
    left, top = place.top_left
    line_y = 14.0 + ROW_MM * (len(marks) + 1)
    for at in [*marks, head.bar.length_um]:
        line_y -= ROW_MM
        ends = (left, place.at(at, 0)[0])
        across(
            canvas,
            ends,
            line_y,
            spell_length(at, units),
            from_y=top - 0.6,
            data={"dimension-um": at},
        )
    canvas.text((left - 3, top + 8), f"from the {head.bar.end_name}")


def _stem_and_rods(
    canvas: Canvas, head: Head, side: HeadPlace, end: HeadPlace, units: Units
) -> None:
    low = head.bar.section.outside_um + _shown_um(head)
    x, y = side.at(head.stem_at_um, low)
    stem = f"{head.stem.name} {spell_length(head.stem.length_um, units)}"
    canvas.text((max(x, text_width(stem) / 2 + 2), y + 5), stem, anchor=Anchor.MIDDLE)
    shape = head.rod_shape
    if shape is None:
        return
    wide, tall = shape.size_um
    left, right = head.reach_um
    ends = end.at(left, 0)[0], end.at(right, 0)[0]
    levels = end.at(0, -tall)[1], end.at(0, 0)[1]
    across(canvas, ends, levels[0] - ROW_MM, spell_length(wide, units), from_y=levels[0] - 1)
    upright(canvas, levels, ends[1] + 3, spell_length(tall, units), from_x=ends[1] - 2)


def _joint_list(
    canvas: Canvas, sheet: Sheet, head: Head, place: HeadPlace, y: float, units: Units
) -> float:
    """Every joint in words, those on the bar numbered on the drawing first."""
    shown = list(joint_tips(sheet, head, place))
    rows = _rows(sheet, head, place)
    for number, (joint, tip) in enumerate(shown, start=1):
        is_stem = joint.part == head.stem.item
        half = sheet.part(joint.part).section.outside_um / 2 / place.per_mm
        mark_joint(canvas, joint, tip, half, below=is_stem)
        up = _UP_MM + _BALLOON_MM * rows.get(number, 0)
        spot = (tip[0] + 12, tip[1] + 9) if is_stem else (tip[0] + 8, tip[1] - up)
        balloon(canvas, spot, number, (tip[0] + half + 0.8, tip[1]))
    others = [joint for joint in sheet.joints if joint.onto != head.bar.item]
    for number, joint in enumerate([*(joint for joint, _ in shown), *others], start=1):
        canvas.circle((LEFT_MM + 3.2, y - 1.4), 3.2, Pen.THIN)
        canvas.text((LEFT_MM + 3.2, y), str(number), anchor=Anchor.MIDDLE, bold=True)
        for line in wrapped(_said(sheet, joint, units), 140):
            canvas.text((LEFT_MM + 9, y), line)
            y += BODY_MM * 1.2
        y += 3
    return y


def _rows(sheet: Sheet, head: Head, place: HeadPlace) -> dict[int, int]:
    """How many rows up the balloon of each joint on top of the bar stands, by its number."""
    tips = [
        (tip[0], number)
        for number, (joint, tip) in enumerate(joint_tips(sheet, head, place), start=1)
        if joint.part != head.stem.item
    ]
    tips.sort()
    levels = levels_of([(x, x + _BALLOON_MM) for x, _ in tips])
    return {number: level for (_, number), level in zip(tips, levels, strict=True)}


def _said(sheet: Sheet, joint: Joint, units: Units) -> str:
    part, onto = sheet.part(joint.part), sheet.part(joint.onto)
    where = f"{spell_length(joint.at_um, units)} from the {onto.end_name}"
    said = f"{joint.kind.value.capitalize()} {part.name} to {onto.name}, {where}"
    return f"{said}, {joint.note}" if joint.note else said
