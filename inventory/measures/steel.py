"""Weights of steel, wire gauges, bales, and how many pieces a stick gives.

Sizes are whole micrometres, weights exact decimals of pounds, never floats. A gauge number
means another size for tube, sheet and wire, and on each side of an ocean: rows keep the size,
and only steel wire may be read by its gauge here.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from inventory.measures.lengths import MICROMETRES_PER_FOOT, MICROMETRES_PER_INCH, inches

POUNDS_PER_CUBIC_FOOT = Decimal(490)  # steel, the constant of the handbooks
# Written out: math.pi is a float, and no weight here is one.
PI = Decimal("3.141592653589793238462643383")
SQUARE_INCHES_PER_SQUARE_FOOT = 144

# Steel wire gauge (Washburn & Moen), inches. American wire gauge is for copper and differs.
_STEEL_WIRE_INCHES = {
    "9": "0.1483", "10": "0.1350", "11": "0.1205", "12": "0.1055", "12.5": "0.0985",
    "13": "0.0915", "14": "0.0800", "15": "0.0720", "16": "0.0625", "17": "0.0540",
    "18": "0.0475",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Conduit:
    """Thin-wall steel conduit by its trade size: outside and inside diameter.

    ``least_pounds`` is what a maker lists as the least that a hundred feet weigh; ``None``
    for sizes whose list was not read. From the nominal sizes it comes out some 5 in a
    hundred heavier.
    """

    trade_size: str
    outside: int
    inside: int
    least_pounds: Decimal | None = None

    @property
    def wall(self) -> int:
        """Half of what the diameters differ by."""
        # Rounded down by at most a micrometre, which no caliper finds.
        return (self.outside - self.inside) // 2


CONDUITS = tuple(
    Conduit(size, inches(outside), inches(inside), Decimal(least) if least else None)
    for size, outside, inside, least in (
        ("1/2", "0.706", "0.622", "28.5"),
        ("3/4", "0.922", "0.824", "43.5"),
        ("1", "1.163", "1.049", "64"),
        ("1 1/4", "1.510", "1.380", ""),
        ("1 1/2", "1.740", "1.610", ""),
        ("2", "2.197", "2.067", ""),
    )
)


class GaugeRefused(ValueError):
    """A gauge that is not in the table of steel wire."""


def square_tube_pounds_per_foot(side: int, wall: int) -> Decimal:
    """Square tube with sharp corners; makers' lists, with rounded ones, say up to a tenth less.

    Raises
    ------
    ValueError
        When the walls meet in the middle.
    """
    if not 0 < 2 * wall < side:
        raise ValueError("the wall must be more than nothing and less than half the side")
    return _pounds_per_foot(Decimal(side * side - (side - 2 * wall) ** 2))


def round_rod_pounds_per_foot(diameter: int) -> Decimal:
    """Solid round rod."""
    return _pounds_per_foot(PI * diameter * diameter / 4)


def round_tube_pounds_per_foot(outside: int, inside: int) -> Decimal:
    """Round tube, conduit, pipe."""
    return round_rod_pounds_per_foot(outside) - round_rod_pounds_per_foot(inside)


def conduit_of(outside: int, wall: int) -> Conduit | None:
    """The trade size of those measures; ``None`` when it is no listed conduit."""
    near = inches("0.01")  # what a caliper on paint and a rounded figure may differ by
    for conduit in CONDUITS:
        if abs(conduit.outside - outside) <= near and abs(conduit.wall - wall) <= near:
            return conduit
    return None


def section_pounds_per_foot(shape: str, outside: int, wall: int) -> Decimal | None:
    """The weight of a foot of a section by its name; ``None`` where it does not follow from it.

    Mesh has none: its weight hangs on its width as well.
    """
    if shape == "round_rod" and outside > 0:
        return round_rod_pounds_per_foot(outside)
    if not 0 < 2 * wall < outside:
        return None
    if shape == "square_tube":
        return square_tube_pounds_per_foot(outside, wall)
    if shape in ("round_tube", "conduit"):
        return round_tube_pounds_per_foot(outside, outside - 2 * wall)
    return None


def pounds(per_foot: Decimal, length: int) -> Decimal:
    """The weight of a length."""
    return per_foot * length / MICROMETRES_PER_FOOT


def steel_wire_diameter(gauge: str) -> int:
    """Micrometres of a steel wire gauge from 9 to 18, ``"12.5"`` among them.

    Raises
    ------
    GaugeRefused
        For any other gauge.
    """
    try:
        return inches(_STEEL_WIRE_INCHES[gauge.strip()])
    except KeyError:
        known = ", ".join(_STEEL_WIRE_INCHES)
        raise GaugeRefused(f"“{gauge}” is not a steel wire gauge here; known: {known}.") from None


def bale_cubic_feet(height: int, width: int, length: int) -> Decimal:
    """The volume of a bale."""
    return Decimal(height * width * length) / MICROMETRES_PER_FOOT**3


def bale_pounds_per_cubic_foot(weight: Decimal, cubic_feet: Decimal) -> Decimal:
    """How dense a bale is."""
    return weight / cubic_feet


def pieces_per_stick(stick: int, piece: int, *, kerf: int = 0, trim: int = 0) -> int:
    """How many equal pieces a stick gives; the last one needs no saw cut of its own.

    ``trim`` is lost at both ends, the blade included.
    """
    return max(0, (stick - 2 * trim + kerf) // (piece + kerf))


def _pounds_per_foot(square_micrometres: Decimal) -> Decimal:
    square_inches = square_micrometres / MICROMETRES_PER_INCH**2
    return square_inches * POUNDS_PER_CUBIC_FOOT / SQUARE_INCHES_PER_SQUARE_FOOT
