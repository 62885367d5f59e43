"""How thin things are spelled: walls, wires, play."""

from __future__ import annotations

import math
from fractions import Fraction

from inventory.measures.lengths import MICROMETRES_PER_INCH, Units


def spell_thin(micrometres: int, units: Units) -> str:
    """A wall, a wire or a play: thousandths of an inch or hundredths of a millimetre.

    A fraction to the nearest 1/32 would call a wall of 0.083 in the same as one of 3/32.
    """
    if units is Units.INCH:
        return f"{float(Fraction(micrometres, MICROMETRES_PER_INCH)):.3f} in"
    return f"{math.floor(micrometres / 10 + 0.5) / 100:.2f} mm"
