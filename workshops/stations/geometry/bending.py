"""The bent shape of a part: where a point of the straight part ends up.

The middle of the stock keeps its length in a bend, which is near enough for rod and for
conduit bent on a shoe. Angles here are radians, heading 0 along x and growing to the left.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from workshops.stations.geometry.parts import Bend, Part, Turn


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on the centre line and the way the part runs there (micrometres, radians)."""

    x_um: float
    y_um: float
    heading: float


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of the centre line: straight when ``turn`` is 0, else turning so far."""

    start_um: float
    end_um: float
    start: Spot
    turn: float = 0.0

    def spot(self, along_um: float) -> Spot:
        """The place ``along_um`` from end A of the straight part."""
        way = along_um - self.start_um
        if not self.turn:
            return _ahead(self.start, way)
        return _around(self.start, way, self.turn / (self.end_um - self.start_um))


def taken_um(bend: Bend, part: Part) -> float:
    """How much of the centre line the bend takes up."""
    return math.radians(bend.angle_deg) * middle_radius_um(bend, part)


def middle_radius_um(bend: Bend, part: Part) -> float:
    """From the middle of the bend to the centre line of the stock."""
    return bend.inside_radius_um + part.section.outside_um / 2


def runs_of(part: Part) -> tuple[Run, ...]:
    """The straight and bent stretches from end A on, the part lying along x at first.

    Bends that overlap each other are drawn one after the other; ``warnings`` tells.
    """
    spot, along = Spot(0.0, 0.0, 0.0), 0.0
    runs: list[Run] = []
    for bend in sorted(part.bends, key=lambda bend: bend.at_um):
        half = taken_um(bend, part) / 2
        # Bends that overlap are pushed along, so that half-typed values still make a picture.
        begin = max(along, bend.at_um - half)
        if begin > along:
            runs.append(Run(along, begin, spot))
            spot = runs[-1].spot(begin)
        sign = 1 if bend.turn is Turn.LEFT else -1
        runs.append(Run(begin, begin + 2 * half, spot, sign * math.radians(bend.angle_deg)))
        along = begin + 2 * half
        spot = runs[-1].spot(along)
    if part.length_um > along:
        runs.append(Run(along, part.length_um, spot))
    return tuple(runs)


def spot_at(runs: tuple[Run, ...], along_um: float) -> Spot:
    """Where a point of the straight part lies after bending."""
    for run in runs:
        if along_um <= run.end_um:
            return run.spot(along_um)
    # Past the end the last stretch is followed on: a hole off its part is shown off it.
    return runs[-1].spot(along_um)


def _ahead(start: Spot, way: float) -> Spot:
    return Spot(
        start.x_um + way * math.cos(start.heading),
        start.y_um + way * math.sin(start.heading),
        start.heading,
    )


def _around(start: Spot, way: float, curvature: float) -> Spot:
    # Exact along the arc; stepping along it in small straight bits would drift on long legs.
    heading = start.heading + way * curvature
    return Spot(
        start.x_um + (math.sin(heading) - math.sin(start.heading)) / curvature,
        start.y_um - (math.cos(heading) - math.cos(start.heading)) / curvature,
        heading,
    )
