"""One function for each random step of a winter; each draws one value for every replicate.

All give float32 or bool arrays of ``size`` values. Each has a closed mean and variance,
named in its docstring, which the tests hold it to.
"""

from __future__ import annotations

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from workshops.season.engine.curves import Beta, Gamma

Floats = NDArray[np.float32]
Bools = NDArray[np.bool_]
Whole = NDArray[np.intp]


def draw_share(stream: Generator, belief: Beta, size: int) -> Floats:
    """A share that holds for the whole winter. Mean ``belief.mean``, sd ``belief.sd``."""
    return stream.beta(belief.yes, belief.no, size).astype(np.float32)


def draw_rate(stream: Generator, belief: Gamma, size: int) -> Floats:
    """A rate that holds for the whole winter. Mean ``belief.mean``, sd ``belief.sd``."""
    return stream.standard_gamma(belief.shape, size, dtype=np.float32) / np.float32(belief.exposure)


def draw_swing(stream: Generator, spread: float, size: int) -> Floats:
    """A factor for one night. Mean 1, sd ``spread``; exactly 1 when the spread is 0."""
    if spread <= 0.0:
        return np.ones(size, dtype=np.float32)
    shape = 1.0 / spread**2
    return stream.standard_gamma(shape, size, dtype=np.float32) / np.float32(shape)


def draw_happens(stream: Generator, chance: Floats | float, size: int) -> Bools:
    """Whether something happens. Mean ``chance``, variance ``chance * (1 - chance)``."""
    return stream.random(size, dtype=np.float32) < chance


def draw_day(stream: Generator, weights: NDArray[np.float64], size: int) -> Whole:
    """Which of several days it is, by weight: day i with chance ``weights[i] / sum``."""
    steps = np.cumsum(weights / weights.sum())
    # The last step may fall short of 1 by rounding; no draw may pass the last day.
    return np.minimum(np.searchsorted(steps, stream.random(size), side="right"), weights.size - 1)
