"""A part as it looks when it is bent: the template to hold it against."""

from __future__ import annotations

import math
from dataclasses import dataclass

from inventory.measures.lengths import Units, spell_length
from workshops.stations.drawing.canvas import Anchor, Canvas, Pen, Point
from workshops.stations.drawing.dimensions import ROW_MM, across, upright
from workshops.stations.drawing.spelling import spell_angle
from workshops.stations.drawing.strip import scale_for
from workshops.stations.geometry.bending import Run, Spot, runs_of, spot_at
from workshops.stations.geometry.parts import Part, Turn

_WIDEST_MM, _TALLEST_MM = 112.0, 60.0
_STEP = math.radians(4)  # of a bend, between two points of its drawing


@dataclass(frozen=True, slots=True)
class Bent:
    """A part after bending, its middle lying level: centre line and outermost reach, in µm."""

    runs: tuple[Run, ...]
    way: tuple[Point, ...]
    left: float
    right: float
    low: float
    high: float

    @property
    def size_um(self) -> tuple[int, int]:
        """How wide and how tall the bent part is, over all."""
        return round(self.right - self.left), round(self.high - self.low)


@dataclass(frozen=True, slots=True)
class _Placing:
    """From micrometres of the bent part to millimetres on the canvas."""

    left: float
    high: float
    corner: Point
    per_mm: int

    def __call__(self, x_um: float, y_um: float) -> Point:
        x, y = self.corner
        return x + (x_um - self.left) / self.per_mm, y + (self.high - y_um) / self.per_mm


def bent(part: Part) -> Bent:
    """The part after bending, turned so that its middle lies level."""
    runs = runs_of(part)
    tilt = Spot(0.0, 0.0, -spot_at(runs, part.length_um / 2).heading)
    turned = tuple(
        Run(run.start_um, run.end_um, _rotated(run.start, tilt), run.turn) for run in runs
    )
    spots = [spot for run in turned for spot in _spots(run)]
    half = part.section.outside_um / 2
    # The outside of the stock is what a gauge touches, so both sides of it count.
    xs = [spot.x_um + side * math.sin(spot.heading) for spot in spots for side in (-half, half)]
    ys = [spot.y_um + side * math.cos(spot.heading) for spot in spots for side in (-half, half)]
    way = tuple((spot.x_um, spot.y_um) for spot in spots)
    return Bent(turned, way, min(xs), max(xs), min(ys), max(ys))


def draw_profile(canvas: Canvas, part: Part, top: float, units: Units) -> float:
    """The bent part seen from the side, to a scale of its own; gives where it ends."""
    shape = bent(part)
    wide, tall = shape.size_um
    per_mm = 1_000 * max(scale_for(wide, _WIDEST_MM), scale_for(tall, _TALLEST_MM))
    labels = _angle_labels(part, shape, _Placing(shape.left, shape.high, (12.0, 0.0), per_mm))
    lead = top + 7 + max([0.0, *(3.5 - y for _, (_, y) in labels)])
    place = _Placing(shape.left, shape.high, (12.0, lead), per_mm)
    stroke_part(canvas, [place(x, y) for x, y in shape.way], part.section.outside_um / per_mm)
    for words, (x, y) in labels:
        canvas.text((x, y + lead), words, anchor=Anchor.MIDDLE)
    left, low = place(shape.left, shape.low)
    right, high = place(shape.right, shape.high)
    line_y = ROW_MM + max([low + 2, *(y + lead for _, (_, y) in labels)])
    across(canvas, (left, right), line_y, spell_length(wide, units), from_y=low + 1)
    upright(canvas, (high, low), right + 12, spell_length(tall, units), from_x=right + 1)
    return line_y + 2


def stroke_part(canvas: Canvas, way: list[Point], thick_mm: float) -> None:
    """A tube or rod along a line: black, with white inside when it is thick enough."""
    thick = max(thick_mm, 1.0)
    canvas.path(way, Pen.OUTLINE, width=thick)
    if thick > 1.5:
        canvas.path(_shortened(way, 0.5), Pen.OUTLINE, width=thick - 1.0, colour="#fff")


def radii_told(part: Part, units: Units) -> str:
    """The inside radius of the bends in words."""
    radii = sorted({bend.inside_radius_um for bend in part.bends})
    spelled = " and ".join(spell_length(radius, units) for radius in radii)
    return f"inside radius {spelled}"


def _angle_labels(part: Part, shape: Bent, place: _Placing) -> list[tuple[str, Point]]:
    """The angle of each bend, outside it; one that would lie over another is left out.

    The flat drawing says every angle, so none is lost.
    """
    labels: list[tuple[str, Point]] = []
    for bend in part.bends:
        spot = spot_at(shape.runs, bend.at_um)
        x, y = place(spot.x_um, spot.y_um)
        outward = -5.5 if bend.turn is Turn.LEFT else 5.5
        at = x - outward * math.sin(spot.heading), y - outward * math.cos(spot.heading) + 1.4
        if not any(abs(at[0] - a) < 10 and abs(at[1] - b) < 4.5 for _, (a, b) in labels):
            labels.append((spell_angle(bend.angle_deg), at))
    return labels


def _spots(run: Run) -> list[Spot]:
    steps = max(1, math.ceil(abs(run.turn) / _STEP))
    length = run.end_um - run.start_um
    return [run.spot(run.start_um + length * step / steps) for step in range(steps + 1)]


def _rotated(spot: Spot, by: Spot) -> Spot:
    cos, sin = math.cos(by.heading), math.sin(by.heading)
    return Spot(
        spot.x_um * cos - spot.y_um * sin,
        spot.x_um * sin + spot.y_um * cos,
        spot.heading + by.heading,
    )


def _shortened(way: list[Point], by: float) -> list[Point]:
    """The line drawn in by ``by`` at both ends, so that the ends stay closed in black."""
    return [_toward(way[0], way[1], by), *way[1:-1], _toward(way[-1], way[-2], by)]


def _toward(start: Point, other: Point, by: float) -> Point:
    length = math.dist(start, other) or 1.0
    share = by / length
    return start[0] + (other[0] - start[0]) * share, start[1] + (other[1] - start[1]) * share
