"""The roll: first turn, straw layer, outer turn, what is left over.

Circles are worked in floats and rounded once, to the micrometre.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from inventory.measures.rolls import refuse_odd_roll
from workshops.stations.geometry.sheet import RollSpec


@dataclass(frozen=True, slots=True)
class RollShape:
    """What a roll specification comes out as; ``overlap_um`` below 0 is wire missing."""

    inside_um: int
    outside_um: int
    outer_turn_um: int
    overlap_um: int


def diameter_um(around_um: int) -> int:
    """The diameter of a circle that measures ``around_um`` around."""
    return round(around_um / math.pi)


def around_um(diameter_um: int) -> int:
    """The way around a circle of that diameter."""
    return round(diameter_um * math.pi)


def outer_turn_um(ring_um: int, layer_um: int) -> int:
    """Around the outer turn, over a layer on a first turn of ``ring_um``.

    Notes
    -----
    The diameter grows by two layers, so the way around grows by 2 pi layers, whatever
    the first turn measures. The thickness of the wire itself is left out: on the bench a
    tape measures along the middle of the wire in both turns.
    """
    # From the way around and not from a rounded diameter, which would cost a micrometre or two.
    return round(ring_um + 2 * math.pi * layer_um)


def layer_that_closes_um(piece_um: int, ring_um: int) -> int:
    """The layer that makes the rest of the piece exactly one outer turn.

    Below 0 when the rest is shorter than the first turn.
    """
    return round((piece_um - 2 * ring_um) / (2 * math.pi))


def shape_of(roll: RollSpec) -> RollShape:
    """The diameters, the outer turn and the overlap of a roll."""
    outer = outer_turn_um(roll.ring_um, roll.layer_um)
    inside = diameter_um(roll.ring_um)
    return RollShape(
        inside_um=inside,
        outside_um=inside + 2 * roll.layer_um,
        outer_turn_um=outer,
        # Below nothing is kept as it is: the warning says how much longer to cut.
        overlap_um=roll.piece_length_um - roll.ring_um - outer,
    )


def archimedean_arc(pitch_per_radian: float, angle: float) -> float:
    """Length of the spiral r = b theta from its middle to ``angle``.

    Parameters
    ----------
    pitch_per_radian
        b: how far the spiral moves out for one radian; 0 or more, in any unit.
    angle
        theta in radians, 0 or more.

    Returns
    -------
    float
        The length in the unit of ``pitch_per_radian``.

    Notes
    -----
    The closed form of the integral of b sqrt(1 + theta^2).

    Source: calculus; any table of curves has it.
    """
    return pitch_per_radian / 2 * (angle * math.hypot(1, angle) + math.asinh(angle))


def spiral_um(inner_um: int, outer_um: int, thickness_um: int) -> int:
    """Exact length wound from one diameter to a larger, each turn ``thickness_um`` thick."""
    refuse_odd_roll(inner_um, outer_um, thickness_um)
    pitch = thickness_um / (2 * math.pi)
    start, end = inner_um / 2 / pitch, outer_um / 2 / pitch
    return round(archimedean_arc(pitch, end) - archimedean_arc(pitch, start))


def pieces_from_roll(roll_um: int, piece_um: int) -> int:
    """Whole pieces in a roll of mesh. Snips take no kerf."""
    return roll_um // piece_um


def hog_rings_um(width_um: int, count: int) -> tuple[int, ...]:
    """Where ``count`` hog rings sit along the closing edge: one at each end, even between.

    A single ring sits in the middle.
    """
    if count == 1:
        return (width_um // 2,)
    return tuple(round(width_um * place / (count - 1)) for place in range(count))
