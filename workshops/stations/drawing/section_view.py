"""The stock seen end on, so that nobody takes the wrong tube from the rack."""

from __future__ import annotations

from workshops.stations.drawing.canvas import Canvas, Pen, Point
from workshops.stations.geometry.parts import Section, SectionKind

SIZE_MM = 13.0
_METAL = "#bbb"
_LEAST_WALL_MM = 0.8  # a true wall would vanish in print


def draw_section(canvas: Canvas, corner: Point, section: Section) -> None:
    """The section in a square of ``SIZE_MM``, metal in grey; walls at least 0.8 mm thick."""
    if section.kind is SectionKind.WIRE_MESH:
        _mesh(canvas, corner, section)
        return
    wall = max(SIZE_MM * section.wall_um / section.outside_um, _LEAST_WALL_MM)
    middle = (corner[0] + SIZE_MM / 2, corner[1] + SIZE_MM / 2)
    if section.kind is SectionKind.SQUARE_TUBE:
        canvas.rect(corner, (SIZE_MM, SIZE_MM), Pen.OUTLINE, fill=_METAL)
        bore = SIZE_MM - 2 * wall
        canvas.rect((corner[0] + wall, corner[1] + wall), (bore, bore), Pen.THIN, fill="#fff")
        return
    canvas.circle(middle, SIZE_MM / 2, Pen.OUTLINE, fill=_METAL)
    if section.wall_um:
        canvas.circle(middle, SIZE_MM / 2 - wall, Pen.THIN, fill="#fff")


def _mesh(canvas: Canvas, corner: Point, section: Section) -> None:
    """Two by as many meshes as fit, in their own proportion."""
    x, y = corner
    step_x = SIZE_MM / 2
    rows = max(1, round(2 * section.mesh_long_um / section.mesh_short_um))
    for column in range(3):
        at = x + column * step_x
        canvas.line((at, y), (at, y + SIZE_MM), Pen.OUTLINE)
    for row in range(rows + 1):
        at = y + row * SIZE_MM / rows
        canvas.line((x, at), (x + SIZE_MM, at), Pen.OUTLINE)
