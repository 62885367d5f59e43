"""How good were we: intervals for shares, and scores for earlier outlooks."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

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


def crps(forecast: NDArray[np.floating], outcome: float) -> float:
    """Continuous ranked probability score of equally likely forecasts, in their unit.

    0 is perfect; for a single forecast it is the distance. Sorted form of
    E|X - y| - E|X - X'| / 2, so that ten thousand winters cost a sort.
    """
    ordered = np.sort(np.asarray(forecast, dtype=np.float64))
    count = ordered.size
    if not count:
        raise ValueError("forecast must have at least one value")
    weights = 2.0 * np.arange(1, count + 1) - count - 1.0
    spread = float(weights @ ordered) / count**2
    return float(np.abs(ordered - outcome).mean()) - spread


def crps_gaussian(mean: float, sd: float, outcome: float) -> float:
    """The same for a normal forecast, in closed form; ``sd`` more than 0."""
    z = (outcome - mean) / sd
    below = 0.5 * (1.0 + math.erf(z / math.sqrt(2.0)))
    density = math.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi)
    return sd * (z * (2.0 * below - 1.0) + 2.0 * density - 1.0 / math.sqrt(math.pi))


def brier(chance: float, happened: bool) -> float:
    """Squared distance of a chance from what happened: 0 is perfect, 1 is surely wrong."""
    return (chance - float(happened)) ** 2
