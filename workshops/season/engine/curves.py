"""The small closed formulas: gamma and beta updates, moments, learning curves."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Gamma:
    """A gamma belief about a rate: ``shape`` events seen in ``exposure``, both more than 0."""

    shape: float
    exposure: float

    @property
    def mean(self) -> float:
        """Events per unit of exposure."""
        return self.shape / self.exposure

    @property
    def sd(self) -> float:
        """Standard deviation of the rate."""
        return math.sqrt(self.shape) / self.exposure

    def updated(self, events: float, exposure: float) -> Gamma:
        """The belief after ``events`` more in ``exposure`` more (Poisson counts)."""
        return Gamma(self.shape + events, self.exposure + exposure)


@dataclass(frozen=True, slots=True)
class Beta:
    """A beta belief about a share: ``yes`` and ``no`` cases, both more than 0."""

    yes: float
    no: float

    @property
    def mean(self) -> float:
        """The expected share."""
        return self.yes / (self.yes + self.no)

    @property
    def sd(self) -> float:
        """Standard deviation of the share."""
        total = self.yes + self.no
        return math.sqrt(self.yes * self.no / (total + 1.0)) / total

    def updated(self, yes: float, cases: float) -> Beta:
        """The belief after ``yes`` of ``cases`` more (binomial counts)."""
        return Beta(self.yes + yes, self.no + cases - yes)

    @staticmethod
    def of(mean: float, weight: float) -> Beta:
        """The belief with this mean that counts for ``weight`` cases."""
        return Beta(mean * weight, (1.0 - mean) * weight)


def beta_by_moments(
    came: Sequence[int], asked: Sequence[int], *, mean: float, weight: float
) -> Beta:
    """How a share differs between people, from everybody's counts.

    Parameters
    ----------
    came, asked
        Counts per person, ``0 <= came <= asked``; people never asked say nothing.
    mean, weight
        What is believed without any counts; it fades as counts grow.

    Returns
    -------
    Beta
        Its mean is the club's share, its weight how alike people are. The weight stays
        between 1 and 50: counts of a few nights cannot tell more than that.

    Notes
    -----
    With n cases and correlation r within a person, a share has variance
    pq[(1 - r)/n + r]; the weighted sum of squares is set equal to what it expects and
    solved for r; the weight is 1/r - 1. Fewer than three people, or everybody always or
    never there, tell nothing about r.
    """
    pairs = [(x, n) for x, n in zip(came, asked, strict=True) if n > 0]
    cases = sum(n for _, n in pairs)
    share = (sum(x for x, _ in pairs) + mean * weight) / (cases + weight)
    spread = share * (1.0 - share)
    degrees = len(pairs) - 1
    room = cases - sum(n * n for _, n in pairs) / cases - degrees if cases else 0.0
    if degrees < 2 or room <= 0.0:
        return Beta.of(share, weight)
    # Each person weighs as often as they were asked, so that one lucky night tells little.
    squares = sum(n * (x / n - share) ** 2 for x, n in pairs)
    correlation = (squares / spread - degrees) / room
    return Beta.of(share, 1.0 / min(max(correlation, 1.0 / 51.0), 0.5) - 1.0)


def wright_exponent(learning: float) -> float:
    """The exponent b of Wright's curve: piece n takes ``first * n ** b``, b at most 0."""
    return math.log2(learning)


def wright_unit(piece: float, learning: float) -> float:
    """Time of piece number ``piece`` over the time of the first (unit model)."""
    return float(piece ** wright_exponent(learning))


def wright_total(pieces: int, learning: float) -> float:
    """Time of the first ``pieces`` together over the time of the first (unit model)."""
    return math.fsum(wright_unit(piece, learning) for piece in range(1, pieces + 1))


def wright_average_unit(piece: int, learning: float) -> float:
    """The same as ``wright_unit`` in the cumulative-average model, where the *mean* falls.

    Nothing in the outlook uses it; it is here because tables of both models are about, and
    a club that reads its rate from the other one must see by how much they differ.
    """
    exponent = wright_exponent(learning)
    before = (piece - 1) ** (1.0 + exponent) if piece > 1 else 0.0
    return float(piece ** (1.0 + exponent) - before)
