"""The drawing of one part, for the card of whoever cuts, drills or bends it."""

from __future__ import annotations

from inventory.measures.lengths import Units
from workshops.stations.drawing.canvas import (
    HEADING_MM,
    SMALL_MM,
    WIDTH_MM,
    Anchor,
    Canvas,
)
from workshops.stations.drawing.mesh import LONGEST_MM as MESH_LONGEST_MM
from workshops.stations.drawing.mesh import draw_mesh
from workshops.stations.drawing.profile import draw_profile, radii_told
from workshops.stations.drawing.section_view import SIZE_MM, draw_section
from workshops.stations.drawing.spelling import spell_length_of, spell_section, spell_stick
from workshops.stations.drawing.strip import LEFT_MM, draw_strip, scale_for
from workshops.stations.geometry.parts import Part, SectionKind

_HEAD_MM = 19.0


def draw_part(part: Part, units: Units) -> str:
    """The part as SVG: stock seen end on, holes and bends from end A, length, scale.

    A bent part is drawn twice, flat to mark it out and bent to hold it against.
    """
    is_mesh = part.section.kind is SectionKind.WIRE_MESH
    one_to = scale_for(part.length_um, MESH_LONGEST_MM) if is_mesh else scale_for(part.length_um)
    canvas = Canvas(part.name, _told(part, units), one_to * 1_000, LEFT_MM)
    _heading(canvas, part, units)
    if is_mesh:
        bottom = draw_mesh(canvas, part, _HEAD_MM + 1, units)
    else:
        bottom = draw_strip(canvas, part, _HEAD_MM, units)
    if part.bends:
        canvas.text((LEFT_MM, bottom + 7), f"Bent, {radii_told(part, units)}:", bold=True)
        bottom = draw_profile(canvas, part, bottom + 5, units)
    thickness = "" if is_mesh else " Thickness is drawn larger."
    note = f"Lengths 1 : {one_to} at 160 mm wide.{thickness} Work to the numbers."
    canvas.text((LEFT_MM, bottom + 5), note, size=SMALL_MM)
    return canvas.to_svg(bottom + 7)


def _heading(canvas: Canvas, part: Part, units: Units) -> None:
    canvas.text((LEFT_MM, 7), part.name, size=HEADING_MM, bold=True)
    canvas.text((LEFT_MM, 13), _count_and_stock(part, units))
    corner = (WIDTH_MM - 6 - SIZE_MM, 2.0)
    draw_section(canvas, corner, part.section)
    size, wall = spell_section(part.section, units)
    canvas.text((corner[0] - 2.5, 7), size, anchor=Anchor.END)
    canvas.text((corner[0] - 2.5, 13), wall, anchor=Anchor.END)


def _count_and_stock(part: Part, units: Units) -> str:
    count = f"{part.count} to a set"
    if part.stock_length_um is None:
        return count
    bought = "roll" if part.section.kind is SectionKind.WIRE_MESH else "stick"
    return f"{count}, from a {spell_stick(part.stock_length_um, units)} {bought}"


def _told(part: Part, units: Units) -> str:
    """The drawing in words, for whoever cannot see it."""
    size, wall = spell_section(part.section, units)
    stock = f"{size}, {wall}" if wall else size
    holes, bends = len(part.holes), len(part.bends)
    more = [f"{holes} hole{'s' * (holes > 1)}"] if holes else []
    more += [f"{bends} bend{'s' * (bends > 1)}"] if bends else []
    return "; ".join([f"{spell_length_of(part, units)} of {stock}", *more]) + "."
