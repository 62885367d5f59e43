"""How good were we: intervals for shares, and scores for earlier outlooks."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from inventory.measures.shares import Z_95, wilson

__all__ = ["Z_95", "brier", "crps", "crps_gaussian", "wilson"]


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
