"""What is left on a roll: from two diameters and the thickness of a turn, or from its weight.

Lengths are whole micrometres; the arithmetic is exact decimals until the one rounding.
"""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Decimal

from inventory.measures.steel import PI


def left_on_roll_um(inner_um: int, outer_um: int, thickness_um: int) -> int:
    """Wire left on a stock roll, from its diameters and the thickness of one turn.

    Parameters
    ----------
    inner_um, outer_um
        Across the core, and across the roll as it is now; micrometres.
    thickness_um
        How much one turn adds on one side.

    Returns
    -------
    int
        Micrometres, rounded once.

    Raises
    ------
    ValueError
        When the outer diameter is not larger than the inner, or a size is not above 0.

    Notes
    -----
    Area of the wound ring over the thickness: L = pi (D^2 - d^2) / 4t. It is what a tape
    and a pocket calculator give, and within a thousandth of the spiral from two turns on.

    Source: a roll formula of the trade; the spiral it stands for is calculus.
    """
    refuse_odd_roll(inner_um, outer_um, thickness_um)
    ring = PI * (outer_um**2 - inner_um**2) / (4 * thickness_um)
    return int(ring.quantize(Decimal(1), ROUND_HALF_EVEN))


def turn_of_mesh_um(wire_um: int) -> int:
    """How thick one turn of welded mesh is at least: two wires, where they cross.

    A first guess only: a roll that was wound by hand is looser, so measure ten turns.
    """
    return 2 * wire_um


def refuse_odd_roll(inner_um: int, outer_um: int, thickness_um: int) -> None:
    """Refuse what cannot be wound: no core, no thickness, nothing on it."""
    if min(inner_um, thickness_um) <= 0 or outer_um <= inner_um:
        raise ValueError("a roll needs a core and a turn thicker than 0, and to be larger outside")
