"""How much straw and hay one cylinder takes, to order and to fetch by.

Volumes are whole cubic micrometres, so that a hundred cylinders are exactly a hundred
times one; litres and cubic feet are for reading.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from workshops.stations.geometry.roll import shape_of
from workshops.stations.geometry.sheet import RollSpec

CUBIC_UM_PER_LITRE = 10**15
CUBIC_UM_PER_CUBIC_FOOT = 304_800**3


@dataclass(frozen=True, slots=True)
class CylinderFill:
    """Straw in the wrap and hay inside, for one cylinder, in cubic micrometres."""

    straw_um3: int
    hay_um3: int


def ring_space_um3(inside_um: int, outside_um: int, length_um: int) -> int:
    """The space between two round walls of those diameters."""
    return round(math.pi * (outside_um**2 - inside_um**2) * length_um / 4)


def fill_of(roll: RollSpec) -> CylinderFill:
    """What one cylinder takes: the whole layer of straw, the inside by its fill percent."""
    shape = shape_of(roll)
    inside = ring_space_um3(0, shape.inside_um, roll.width_um)
    return CylinderFill(
        straw_um3=ring_space_um3(shape.inside_um, shape.outside_um, roll.width_um),
        # Multiplied before it is divided: all whole numbers, one rounding.
        hay_um3=inside * roll.fill_percent // 100,
    )


def litres(volume_um3: int) -> float:
    """The volume in litres, for reading."""
    return volume_um3 / CUBIC_UM_PER_LITRE


def cubic_feet(volume_um3: int) -> float:
    """The volume in cubic feet, for reading."""
    return volume_um3 / CUBIC_UM_PER_CUBIC_FOOT


def grams(volume_um3: int, grams_per_litre: int) -> int:
    """The weight of that much straw or hay, to the gram."""
    return round(volume_um3 * grams_per_litre / CUBIC_UM_PER_LITRE)


def cylinders_from_bale(bale_um3: int, each_um3: int) -> int:
    """Whole cylinders that one bale fills when it is packed as tight as it came."""
    return bale_um3 // each_um3
