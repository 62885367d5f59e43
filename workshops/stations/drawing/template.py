"""The bend template of a rod at true size, over as many sheets of paper as it takes.

Every sheet has two rules of 100 mm, one each way: a printer that fits the page to its paper
shrinks both ways, not always alike, and nobody sees it on the rod.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from inventory.measures.lengths import Units
from workshops.stations.drawing.canvas import (
    HEADING_MM,
    SMALL_MM,
    Anchor,
    Canvas,
    Pen,
    Point,
    text_width,
    wrapped,
)
from workshops.stations.drawing.profile import Bent, bent, radii_told
from workshops.stations.drawing.rules import RULE_MM, level_rule, upright_rule
from workshops.stations.drawing.spelling import spell_angle, spell_length_of, spell_section
from workshops.stations.drawing.stamp import Stamp
from workshops.stations.drawing.tiles import FOOT_MM, LAP_MM, MARGIN_MM, Paper, Tile, Tiling, tiled
from workshops.stations.geometry.bending import Run, spot_at, taken_um
from workshops.stations.geometry.parts import Part, Turn

_PAD_MM = 9.0  # around the rod, for its words
_FINE_MM = 0.01  # a drawn arc is no farther than this from the true one
_APART_MM = LAP_MM / 4
_MAP_WIDE_MM, _MAP_TALL_MM = 44.0, 17.0
_MM = 1_000


@dataclass(frozen=True, slots=True)
class _Template:
    """A bent part laid over its sheets."""

    part: Part
    stamp: Stamp
    units: Units
    shape: Bent
    tiling: Tiling

    def place(self, along_um: float, off_um: float = 0.0) -> Point:
        """Where a place of the rod lies in the drawing, so far to the left of its middle."""
        spot = spot_at(self.shape.runs, along_um)
        x = spot.x_um - off_um * math.sin(spot.heading)
        return _placed(self.shape, x, spot.y_um + off_um * math.cos(spot.heading))

    def at(self, tile: Tile, along_um: float, off_um: float = 0.0) -> Point:
        """Where it lies on that sheet; it may be off it."""
        return self.tiling.at(tile, self.place(along_um, off_um))


def draw_template(part: Part, stamp: Stamp, units: Units, paper: Paper) -> tuple[list[str], Paper]:
    """The template as one SVG a sheet, and how the paper lies in the printer.

    Each is as large as the paper, less a millimetre below.

    Raises
    ------
    ValueError
        When the part has no bend.
    """
    if not part.bends:
        raise ValueError(f"{part.name} has no bend, so no template")
    shape = bent(part)
    size = _placed(shape, shape.right, shape.low)
    places = [_placed(shape, *each) for each in _edge(shape, 0.0, _APART_MM * _MM)]
    head = 30.0 if stamp.warning else 19.0
    tiling = tiled(places, (size[0] + _PAD_MM, size[1] + _PAD_MM), paper, head_mm=head)
    whole = _Template(part, stamp, units, shape, tiling)
    return [_sheet(whole, tile) for tile in tiling.tiles], tiling.paper


def _sheet(whole: _Template, tile: Tile) -> str:
    paper, part = whole.tiling.paper, whole.part
    told = (
        f"{part.name} at true size, {spell_length_of(part, whole.units)} before bending, "
        f"sheet {tile.number} of {len(whole.tiling.tiles)}. {whole.stamp.warning}"
    )
    origin = whole.tiling.origin(tile)[0]
    canvas = Canvas(f"Bend template, {part.name}", told, _MM, origin, paper.width_mm)
    _rod(canvas, whole, tile)
    _clear_edges(canvas, whole.tiling)
    _seams(canvas, whole.tiling, tile)
    _labels(canvas, whole, tile)
    _head(canvas, whole, tile)
    _foot(canvas, whole, tile)
    # A page of exactly the paper's height may round to two.
    return canvas.to_svg(paper.height_mm - 1)


def _rod(canvas: Canvas, whole: _Template, tile: Tile) -> None:
    """Both edges and the ends, the middle line, and where every bend begins and ends."""
    half, part = whole.part.section.outside_um / 2, whole.part
    edges = [*_edge(whole.shape, half), *reversed(_edge(whole.shape, -half))]
    outline = [whole.tiling.at(tile, _placed(whole.shape, *each)) for each in edges]
    canvas.path([*outline, outline[0]], Pen.OUTLINE)
    middle = [whole.tiling.at(tile, _placed(whole.shape, *each)) for each in _edge(whole.shape, 0)]
    canvas.path(middle, Pen.CENTRE)
    over = half + 4 * _MM
    for bend in part.bends:
        ends = whole.at(tile, bend.at_um, over), whole.at(tile, bend.at_um, -over)
        canvas.line(*ends, Pen.THIN, {"um": bend.at_um, "bend": spell_angle(bend.angle_deg)})
        for away in (-taken_um(bend, part) / 2, taken_um(bend, part) / 2):
            at = bend.at_um + away
            canvas.line(whole.at(tile, at, half), whole.at(tile, at, -half), Pen.HIDDEN)
    for hole in part.holes:
        centre = whole.at(tile, hole.from_end_um)
        canvas.circle(centre, hole.diameter_um / 2 / _MM, Pen.THIN, data={"um": hole.from_end_um})


def _clear_edges(canvas: Canvas, tiling: Tiling) -> None:
    """White over whatever the neighbours show, to beyond the paper."""
    (left, top), (wide, tall), paper = tiling.corner, tiling.size, tiling.paper
    across, down, out = paper.width_mm + 20, paper.height_mm + 20, -10.0
    canvas.blank((out, out), (across, top - out))
    canvas.blank((out, top + tall), (across, down))
    canvas.blank((out, out), (left - out, down))
    canvas.blank((left + wide, out), (across, down))


def _seams(canvas: Canvas, tiling: Tiling, tile: Tile) -> None:
    """A line to cut along and two marks to lay over each other, towards every neighbour."""
    (left, top), (wide, tall), half = tiling.corner, tiling.size, LAP_MM / 2
    for right, down in ((-1, 0), (1, 0), (0, -1), (0, 1)):
        other = tiling.neighbour(tile, right, down)
        if other is None:
            continue
        pair = f"{min(tile.number, other.number)} | {max(tile.number, other.number)}"
        if right:
            x = left + (wide - half if right > 0 else half)
            ends, marks = ((x, top), (x, top + tall)), [(x, top + 8), (x, top + tall - 8)]
        else:
            y = top + (tall - half if down > 0 else half)
            ends, marks = ((left, y), (left + wide, y)), [(left + 36, y), (left + wide - 24, y)]
        canvas.line(*ends, Pen.HIDDEN, {"seam": pair})
        for mark in marks:
            _cross(canvas, mark, pair, at_left=right < 0)


def _cross(canvas: Canvas, place: Point, pair: str, *, at_left: bool) -> None:
    x, y = place
    canvas.circle(place, 2.5, Pen.THIN, data={"mark": pair})
    canvas.line((x - 5, y), (x + 5, y), Pen.THIN)
    canvas.line((x, y - 5), (x, y + 5), Pen.THIN)
    # Inward, clear of the rule beside the sheet's left edge.
    beside, anchor = (3.2, Anchor.START) if at_left else (-3.2, Anchor.END)
    canvas.text((x + beside, y - 2.6), pair, size=SMALL_MM, anchor=anchor)


def _labels(canvas: Canvas, whole: _Template, tile: Tile) -> None:
    """Each bend's number and angle on its outer side, and which end is end A."""
    half = whole.part.section.outside_um / 2
    said = [(0.0, -half - 5 * _MM, whole.part.end_name)]
    for number, bend in enumerate(whole.part.bends, start=1):
        outer = -1 if bend.turn is Turn.LEFT else 1
        words = f"bend {number}: {spell_angle(bend.angle_deg)} {bend.turn.value}"
        said.append((bend.at_um, outer * (half + 7 * _MM), words))
    for along, off, words in said:
        middle, place = whole.at(tile, along), whole.at(tile, along, off)
        if whole.tiling.owns(tile, whole.place(along)):
            _label(canvas, whole.tiling, (middle, place), words)


def _label(canvas: Canvas, tiling: Tiling, way: tuple[Point, Point], words: str) -> None:
    """Words at the end of a way out from the rod, drawn in from the seams and their marks."""
    (left, top), (wide, tall), width = tiling.corner, tiling.size, text_width(words)
    middle, place = way
    # Beside a rod that runs up the sheet, over or under one that lies along it.
    outward = (place[0] - middle[0]) / math.dist(middle, place)
    x = place[0] - width * (1 - outward) / 2
    x = min(max(x, left + LAP_MM), left + wide - LAP_MM - width)
    y = min(max(place[1] + 1.4, top + 1.5 * LAP_MM), top + tall - 1.4 * LAP_MM)
    canvas.text((x, y), words)


def _head(canvas: Canvas, whole: _Template, tile: Tile) -> None:
    """Which drawing, how it stands, which sheet."""
    part, left, right = whole.part, MARGIN_MM, whole.tiling.paper.width_mm - MARGIN_MM
    size, wall = spell_section(part.section, whole.units)
    stock = f"{size}, {wall}" if wall else size
    counted = f"sheet {tile.number} of {len(whole.tiling.tiles)}"
    title = f"Bend template 1 : 1, {part.name}"
    room = right - left - text_width(counted, bold=True) - 4
    # A long name is set smaller, so that it keeps clear of the sheet's number.
    shrunk = HEADING_MM * min(1.0, room / text_width(title, HEADING_MM, bold=True))
    canvas.text((left, 13), title, size=max(SMALL_MM, shrunk), bold=True)
    canvas.text((right, 13), counted, anchor=Anchor.END, bold=True)
    canvas.text((left, 19), f"{whole.stamp.drawing}, {whole.stamp.state}", bold=True)
    canvas.text((right, 19), whole.stamp.printed, anchor=Anchor.END)
    cut = f"{spell_length_of(part, whole.units)} of {stock}, {radii_told(part, whole.units)}"
    canvas.text((left, 24.5), cut)
    if whole.stamp.warning:
        canvas.rect((left, 27), (right - left, 8), Pen.HEAVY)
        middle = ((left + right) / 2, 33)
        canvas.text(middle, whole.stamp.warning, size=HEADING_MM, anchor=Anchor.MIDDLE, bold=True)


def _foot(canvas: Canvas, whole: _Template, tile: Tile) -> None:
    """The rules and what to do when they are off, and where this sheet lies."""
    paper, left = whole.tiling.paper, whole.tiling.corner[0]
    y = paper.height_mm - MARGIN_MM - FOOT_MM + 9
    level_rule(canvas, (left, y))
    upright_rule(canvas, (MARGIN_MM + 3, whole.tiling.corner[1] + 7))
    has_map = len(whole.tiling.tiles) > 1
    right = paper.width_mm - MARGIN_MM - (_MAP_WIDE_MM + 4 if has_map else 0)
    words = (
        f"Both rules are {RULE_MM:g} mm long: measure them on every sheet. If one is not, print "
        "again at 100 %, without fitting to the page. Bend one and hold it on both lines before "
        "you bend the rest."
    )
    y += 6
    for line in wrapped(words, right - left, SMALL_MM):
        canvas.text((left, y), line, size=SMALL_MM)
        y += SMALL_MM * 1.2
    if has_map:
        _map(canvas, whole, tile)


def _map(canvas: Canvas, whole: _Template, tile: Tile) -> None:
    """All sheets laid together, small, this one grey."""
    tiling = whole.tiling
    (across, down), paper = tiling.step, tiling.paper
    wide, tall = tiling.columns * across + LAP_MM, tiling.rows * down + LAP_MM
    share = min(_MAP_WIDE_MM / wide, _MAP_TALL_MM / tall)
    right, low = paper.width_mm - MARGIN_MM, paper.height_mm - MARGIN_MM - 2
    left, top = right - wide * share, low - tall * share
    for one in tiling.tiles:
        corner = (left + one.column * across * share, top + one.row * down * share)
        size = (tiling.size[0] * share, tiling.size[1] * share)
        canvas.rect(corner, size, Pen.THIN, fill="#bbb" if one == tile else "none")
    way = [_placed(whole.shape, *each) for each in whole.shape.way]
    shift = tiling.shift
    canvas.path(
        [(left + (x + shift[0]) * share, top + (y + shift[1]) * share) for x, y in way],
        Pen.OUTLINE,
    )


def _placed(shape: Bent, x_um: float, y_um: float) -> Point:
    """Millimetres right of and below the top left of the drawing, its border within."""
    return _PAD_MM + (x_um - shape.left) / _MM, _PAD_MM + (shape.high - y_um) / _MM


def _edge(shape: Bent, off_um: float, apart_um: float = math.inf) -> list[Point]:
    """Points along a line beside the middle, close enough that an arc is true."""
    points: list[Point] = []
    for run in shape.runs:
        steps = _steps(run, off_um, apart_um)
        for step in range(steps + 1):
            spot = run.spot(run.start_um + (run.end_um - run.start_um) * step / steps)
            x = spot.x_um - off_um * math.sin(spot.heading)
            points.append((x, spot.y_um + off_um * math.cos(spot.heading)))
    return points


def _steps(run: Run, off_um: float, apart_um: float) -> int:
    long = run.end_um - run.start_um
    steps = 1 if math.isinf(apart_um) else max(1, math.ceil(long / apart_um))
    if run.turn:
        radius = long / abs(run.turn) + abs(off_um)
        # A chord of an angle lies r (1 - cos of its half) inside the arc.
        widest = 2 * math.acos(1 - min(1.0, _FINE_MM * _MM / radius))
        steps = max(steps, math.ceil(abs(run.turn) / widest))
    return steps
