"""A piece of wire mesh laid flat, both ways to one scale."""

from __future__ import annotations

from inventory.measures.lengths import Units
from workshops.stations.drawing.canvas import Canvas, Pen
from workshops.stations.drawing.dimensions import ROW_MM, across, upright
from workshops.stations.drawing.spelling import spell_length_of, spell_long
from workshops.stations.drawing.strip import LEFT_MM
from workshops.stations.geometry.parts import Part

LONGEST_MM = 118.0  # leaves room for the width on the right
_CLOSEST_MM = 1.2  # lines nearer than this print grey: leave some out


def draw_mesh(canvas: Canvas, part: Part, top: float, units: Units) -> float:
    """The piece with its two sizes; gives where the drawing ends."""
    long_mm, wide_mm = part.length_um / canvas.um_per_mm, part.width_um / canvas.um_per_mm
    right, bottom = LEFT_MM + long_mm, top + wide_mm
    for at in _wires(part.length_um, part.section.mesh_long_um, canvas.um_per_mm):
        canvas.line((LEFT_MM + at, top), (LEFT_MM + at, bottom), Pen.HAIR)
    for at in _wires(part.width_um, part.section.mesh_short_um, canvas.um_per_mm):
        canvas.line((LEFT_MM, top + at), (right, top + at), Pen.HAIR)
    canvas.rect((LEFT_MM, top), (long_mm, wide_mm), Pen.OUTLINE)
    for at_um, x, name in ((0, LEFT_MM, "end-a"), (part.length_um, right, "end-b")):
        canvas.line((x, top), (x, bottom), Pen.HEAVY, {"um": at_um, "edge": name})
    length = spell_length_of(part, units)
    data = {"dimension-um": part.length_um}
    across(canvas, (LEFT_MM, right), bottom + ROW_MM + 1, length, from_y=bottom, data=data)
    upright(canvas, (top, bottom), right + 6, spell_long(part.width_um, units), from_x=right)
    return bottom + ROW_MM + 3


def _wires(size_um: int, mesh_um: int, um_per_mm: int) -> list[float]:
    spacing = mesh_um / um_per_mm
    every = max(1, -(-_CLOSEST_MM // spacing))
    count = int(size_um / (mesh_um * every))
    return [spacing * every * number for number in range(1, count + 1)]
