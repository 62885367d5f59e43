"""The cut list as numbers, and the programme that chooses how often each pattern is cut.

One row for each size (at least so many pieces), one for each kind of stick that is limited.
More pieces than wanted are allowed here and left off afterwards: a shorter total is never worth
less, so the best cost is the same, and the relaxation is tighter.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from inventory.cutting.engine.patterns import Pattern
from inventory.cutting.engine.problem import CutProblem, Stick
from inventory.engines.milp import Programme, Solution, Status
from inventory.engines.stop import Seconds

Taken = dict[Pattern, int]


@dataclass(frozen=True)
class Figures:
    """A problem reduced to whole numbers.

    ``sizes`` are different lengths with one kerf each, longest first, ``demand`` how many of
    each. With ``counts_missing`` sticks cost nothing and every piece left out costs its size:
    what is least then is the metal missing.
    """

    problem: CutProblem
    sticks: tuple[Stick, ...]
    sizes: tuple[int, ...]
    demand: tuple[int, ...]
    counts_missing: bool = False

    @cached_property
    def rooms(self) -> tuple[int, ...]:
        """What each kind of stick has room for, a kerf with each piece."""
        return tuple(self.problem.room(stick) for stick in self.sticks)

    @cached_property
    def most_cost(self) -> int:
        """More than any sensible plan costs: each piece from a stick of its own."""
        costs = [self.problem.cost_of(stick) for stick in self.sticks]
        return max([*costs, *self.sizes, 1]) * (sum(self.demand) + 1)

    def taken(self, counts: tuple[int, ...]) -> int:
        """What the pieces and their kerfs take together."""
        return sum(size * count for size, count in zip(self.sizes, counts, strict=True))

    def cost_at(self, stick: int, taken: int) -> int:
        """What a stick costs when ``taken`` is cut off it and the remnant is returned."""
        if self.counts_missing:
            return 0
        kind, problem = self.sticks[stick], self.problem
        return problem.cost_of(kind) - problem.worth_of(kind, problem.left_over(kind, taken))

    def costs_at(self, stick: int, taken: np.ndarray) -> np.ndarray:
        """``cost_at`` for many totals at once."""
        kind, problem = self.sticks[stick], self.problem
        if self.counts_missing:
            return np.zeros(len(taken), dtype=np.int64)
        cost = problem.cost_of(kind)
        if problem.keep_length is None:
            return np.full(len(taken), cost, dtype=np.int64)
        left = np.maximum(0, kind.length - problem.start(kind) - taken)
        percent = 100 if kind.is_drop else problem.keep_percent
        worth = cost * left * percent // (100 * kind.length)
        return cost - np.where(left >= problem.keep_length, worth, 0)

    def cost(self, pattern: Pattern) -> int:
        """What one stick cut by the pattern costs."""
        return self.cost_at(pattern.stick, self.taken(pattern.counts))

    def left_out(self, taken: Taken) -> tuple[int, ...]:
        """How many pieces of each size are wanted and not cut."""
        made = made_by(taken, len(self.sizes))
        return tuple(max(0, want - got) for want, got in zip(self.demand, made, strict=True))

    def total(self, taken: Taken) -> int:
        """What the plan costs, or the metal it leaves missing."""
        if self.counts_missing:
            return self.taken(self.left_out(taken))
        return sum(self.cost(pattern) * times for pattern, times in taken.items())


def made_by(taken: Taken, sizes: int) -> list[int]:
    """How many pieces of each size the patterns give."""
    made = [0] * sizes
    for pattern, times in taken.items():
        for i, count in enumerate(pattern.counts):
            made[i] += count * times
    return made


def reduce(problem: CutProblem, *, counts_missing: bool = False) -> Figures:
    """The numbers of the problem; pieces longer than every stick are left out."""
    sticks = tuple(stick for stick in problem.sticks if stick.count is None or stick.count)
    longest = max((problem.room(stick) for stick in sticks), default=0)
    # parts of one length are one size to the search; layout tells them apart again
    wanted: dict[int, int] = {}
    for piece in problem.pieces:
        size = piece.length + problem.kerf
        if piece.count and size <= longest:
            wanted[size] = wanted.get(size, 0) + piece.count
    # Longest first, which the fill by hand and the layers of totals both rely on.
    sizes = tuple(sorted(wanted, reverse=True))
    demand = tuple(wanted[size] for size in sizes)
    # a stick too short for every piece would only be a column of zeros
    sticks = tuple(stick for stick in sticks if problem.room(stick) >= min(sizes, default=0))
    return Figures(problem, sticks, sizes, demand, counts_missing)


@dataclass(frozen=True, slots=True)
class Master:
    """The programme over some patterns. Costs are divided by ``unit`` to sit near 1."""

    figures: Figures
    patterns: list[Pattern]

    @property
    def unit(self) -> float:
        """The largest cost of one stick or missing piece, in thousandths."""
        costs = [self.figures.cost(pattern) for pattern in self.patterns]
        if self.figures.counts_missing:
            costs += self.figures.sizes
        return max([*costs, 1]) / 1000

    def solve(self, stop: Seconds, *, seed: int, integer: bool) -> tuple[Solution, float]:
        """The relaxed or whole optimum over these patterns, and the unit of its objective."""
        # micrometres by the million would drown the tolerances of HiGHS
        unit, programme, figures = self.unit, Programme(), self.figures
        # cover rows: see the head of this module for why more than wanted may be cut
        rows: list[dict[int, float]] = [{} for _ in figures.sizes]
        limits: dict[int, dict[int, float]] = {
            j: {} for j, stick in enumerate(figures.sticks) if stick.count is not None
        }
        for pattern in self.patterns:
            at = programme.column(figures.cost(pattern) / unit, integer=integer)
            for i, count in enumerate(pattern.counts):
                if count:
                    rows[i][at] = count
            if pattern.stick in limits:
                limits[pattern.stick][at] = 1
        for i, size in enumerate(figures.sizes if figures.counts_missing else ()):
            rows[i][programme.column(size / unit, integer=integer)] = 1
        for row, demand in zip(rows, figures.demand, strict=True):
            programme.row(row, lower=demand)
        for j, row in limits.items():
            programme.row(row, upper=figures.sticks[j].count or 0)
        return programme.solve(stop, seed=seed), unit

    def relax(self, stop: Seconds, *, seed: int) -> Relaxed | None:
        """The relaxed optimum; ``None`` when there was no time for it."""
        found, unit = self.solve(stop, seed=seed, integer=False)
        if found.status is not Status.BEST:
            return None
        # the sign tells the side of the row, which is known here; the size is the price
        duals = np.abs(found.row_duals) * unit
        rows = len(self.figures.sizes)
        limited = [j for j, stick in enumerate(self.figures.sticks) if stick.count is not None]
        charges = dict(zip(limited, duals[rows:].tolist(), strict=True))
        return Relaxed(found.values[: len(self.patterns)], duals[:rows].tolist(), charges)

    def choose(self, stop: Seconds, *, seed: int) -> Choice:
        """The best whole numbers found over these patterns."""
        found, unit = self.solve(stop, seed=seed, integer=True)
        taken: Taken = {}
        if found.has_values():
            for pattern, value in zip(self.patterns, found.values, strict=False):
                # whole to HiGHS is within a millionth; the cost is recounted in integers
                if round(value):
                    taken[pattern] = round(value)
        is_done = found.status in (Status.BEST, Status.INFEASIBLE)
        # no bound yet comes as not-a-number, or as endless
        bound = found.bound * unit if math.isfinite(found.bound) else 0.0
        return Choice(taken, bound, found.has_values(), is_done)


@dataclass(frozen=True, slots=True)
class Relaxed:
    """How often each pattern in fractions, a price for each size, a charge for each limit."""

    times: np.ndarray
    prices: list[float]
    charges: dict[int, float]


@dataclass(frozen=True, slots=True)
class Choice:
    """Whole numbers of patterns and the bound over these patterns.

    ``is_done``: the plan is best among them, or there is none.
    """

    taken: Taken
    bound: float
    is_found: bool
    is_done: bool
