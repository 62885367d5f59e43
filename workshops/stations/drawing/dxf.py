"""Parts and bend templates as DXF, for whoever makes a jig: millimetres, at true size.

Layers are named by us: outline, holes, bends, words. End A of a part lies at the origin and
the part runs along x, so a place on the build sheet is an x of the file.
"""

from __future__ import annotations

import io
import math

from ezdxf import units as dxf_units
from ezdxf.document import Drawing
from ezdxf.filemanagement import new
from ezdxf.layouts.layout import Modelspace

from inventory.measures.lengths import Units
from workshops.stations.drawing.profile import Bent, bent
from workshops.stations.drawing.spelling import (
    spell_angle,
    spell_holes,
    spell_length_of,
    spell_section,
)
from workshops.stations.drawing.stamp import Stamp
from workshops.stations.geometry.bending import Run, Spot, spot_at
from workshops.stations.geometry.parts import Bend, Part, SectionKind

OUTLINE, HOLES, BENDS, WORDS = "outline", "holes", "bends", "words"
_DASHED = "dashed"
_COLOURS = {OUTLINE: 7, HOLES: 1, BENDS: 5, WORDS: 3}  # the standard's own numbers
_MM = 1_000  # micrometres
_TEXT_MM, _ROW_MM = 5.0, 8.0


def part_dxf(part: Part, stamp: Stamp, units: Units) -> bytes:
    """The part flat, as it is marked out before any bend.

    Parameters
    ----------
    part
        Straight, bent or a piece of wire; lengths in micrometres.
    units
        Of the words only: every place in the file is in millimetres.

    Returns
    -------
    bytes
        A DXF file. The part lies along x from end A at 0, its lower edge on y = 0.

    Notes
    -----
    Drawn for the side that the holes go through: a bent part does not say by its sheet on
    which side its holes are, so the words say "as marked out".
    """
    doc, space = _new()
    length, side = part.length_um / _MM, _side_um(part) / _MM
    corners = [(0, 0), (length, 0), (length, side), (0, side)]
    space.add_lwpolyline(corners, close=True, dxfattribs={"layer": OUTLINE})
    for hole in part.holes:
        centre = (hole.from_end_um / _MM, side / 2)
        space.add_circle(centre, hole.diameter_um / 2 / _MM, dxfattribs={"layer": HOLES})
    for bend in part.bends:
        _bend_line(space, (bend.at_um / _MM, 0), (bend.at_um / _MM, side))
    _words(space, [*_said(part, stamp, units), "As marked out, before any bend."], 0.0)
    return _written(doc)


def template_dxf(part: Part, stamp: Stamp, units: Units) -> bytes:
    """The bent part at true size: both edges of the stock, the bends marked across it.

    Returns
    -------
    bytes
        A DXF file. The middle of the part lies level, end A at the left of it; bends are
        true arcs.

    Raises
    ------
    ValueError
        When the part has no bend.
    """
    if not part.bends:
        raise ValueError(f"{part.name} has no bend, so no template")
    shape = bent(part)
    doc, space = _new()
    _edges(space, shape, part.section.outside_um / 2)
    half = part.section.outside_um / 2
    for bend in part.bends:
        spot = spot_at(shape.runs, bend.at_um)
        _bend_line(space, _beside(spot, half), _beside(spot, -half))
    for hole in part.holes:
        spot = spot_at(shape.runs, hole.from_end_um)
        place, radius = _beside(spot, 0), hole.diameter_um / 2 / _MM
        space.add_circle(place, radius, dxfattribs={"layer": HOLES})
    told = [_bend_said(bend, number) for number, bend in enumerate(part.bends, start=1)]
    closing = "Bend one and hold it against this before you bend the rest."
    _words(space, [*_said(part, stamp, units), *told, closing], shape.low / _MM)
    return _written(doc)


def _new() -> tuple[Drawing, Modelspace]:
    """An empty file in millimetres with our layers."""
    doc = new("R2010", units=dxf_units.MM)
    doc.header["$MEASUREMENT"] = 1  # metric hatches and line types
    doc.header["$LUNITS"] = 2  # decimal
    doc.linetypes.add(_DASHED, [3.0, 2.0, -1.0], description="2 mm drawn, 1 mm left out")
    for name, colour in _COLOURS.items():
        doc.layers.add(name, color=colour)
    return doc, doc.modelspace()


def _edges(space: Modelspace, shape: Bent, half_um: float) -> None:
    """Both edges of the stock and its two ends, as one closed line with true arcs."""
    there = [_vertex(run, half_um) for run in shape.runs]
    back = [_vertex(run, -half_um, is_back=True) for run in reversed(shape.runs)]
    last, first = shape.runs[-1], shape.runs[0]
    ends = (
        (*_beside(last.spot(last.end_um), half_um), 0.0),
        (*_beside(first.start, -half_um), 0.0),
    )
    points = [*there, ends[0], *back, ends[1]]
    space.add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": OUTLINE})


def _vertex(run: Run, off_um: float, *, is_back: bool = False) -> tuple[float, float, float]:
    """Where an edge of a stretch begins, and how it bulges: the tangent of a quarter turn."""
    spot, turn = (run.spot(run.end_um), -run.turn) if is_back else (run.start, run.turn)
    return (*_beside(spot, off_um), math.tan(turn / 4))


def _beside(spot: Spot, off_um: float) -> tuple[float, float]:
    """A place so far to the left of the centre line, in millimetres."""
    return (
        (spot.x_um - off_um * math.sin(spot.heading)) / _MM,
        (spot.y_um + off_um * math.cos(spot.heading)) / _MM,
    )


def _bend_line(space: Modelspace, start: tuple[float, float], end: tuple[float, float]) -> None:
    space.add_line(start, end, dxfattribs={"layer": BENDS, "linetype": _DASHED})


def _said(part: Part, stamp: Stamp, units: Units) -> list[str]:
    """What stands under a drawing: which it is, how it stands, stock, holes."""
    size, wall = spell_section(part.section, units)
    stock = f"{size}, {wall}" if wall else size
    lines = [
        stamp.warning,
        f"{part.name}, {spell_length_of(part, units)} of {stock}",
        f"{stamp.drawing}, {stamp.state}",
        f"x = 0 is the {part.end_name}. Millimetres.",
    ]
    for hole in sorted(part.holes, key=lambda hole: hole.from_end_um):
        said = spell_holes(hole, 1, part, units)
        lines.append(f"{said}, {hole.from_end_um / _MM:.2f} mm from the {part.end_name}")
    return lines


def _bend_said(bend: Bend, number: int) -> str:
    radius = bend.inside_radius_um / _MM
    return (
        f"bend {number}: {spell_angle(bend.angle_deg)}, {bend.turn.value}, "
        f"middle at {bend.at_um / _MM:.2f} mm, inside radius {radius:.2f} mm"
    )


def _words(space: Modelspace, lines: list[str], under_mm: float) -> None:
    """Lines below the drawing, so that no word lies over a cut; the first is the warning."""
    warning, *rest = lines
    y = under_mm - _ROW_MM
    for line, height in [(warning, 2 * _TEXT_MM), *((each, _TEXT_MM) for each in rest)]:
        if not line:
            continue
        y -= 1.6 * height
        # A name of the shop must not end a line of the file, nor start a control code in it.
        plain = " ".join(line.split()).replace("%%", "% %")
        space.add_text(plain, height=height, dxfattribs={"layer": WORDS, "insert": (0, y)})


def _side_um(part: Part) -> int:
    """How broad the part is seen from the side; a wire piece lies flat."""
    is_mesh = part.section.kind is SectionKind.WIRE_MESH
    return part.width_um if is_mesh else part.section.outside_um


def _written(doc: Drawing) -> bytes:
    text = io.StringIO()
    doc.write(text)
    return bytes(doc.encode(text.getvalue()))
