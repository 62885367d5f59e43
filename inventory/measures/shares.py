"""What a sample says of all the rest: an interval for a share."""

from __future__ import annotations

import math

Z_95 = 1.959963984540054


def wilson(yes: int, cases: int, *, z: float = Z_95) -> tuple[float, float]:
    """Wilson's score interval for a share; (0, 1) when there are no cases.

    Raises
    ------
    ValueError
        When ``yes`` is not between 0 and ``cases``.
    """
    if not 0 <= yes <= cases:
        raise ValueError(f"yes must be from 0 to cases ({cases}), not {yes}")
    if not cases:
        return 0.0, 1.0
    share, square = yes / cases, z * z / cases
    middle = (share + square / 2.0) / (1.0 + square)
    half = z / (1.0 + square) * math.sqrt(share * (1.0 - share) / cases + square / (4.0 * cases))
    # At 0 and at all of them the bound is exact; rounding must not pass it.
    low = 0.0 if yes == 0 else middle - half
    high = 1.0 if yes == cases else middle + half
    return low, high
