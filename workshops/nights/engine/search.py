"""Looking for the best values of a model: a quick rounding where it is enough, else the search."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass

import numpy as np

from inventory.engines.milp import Programme, Solution, Status
from inventory.engines.stop import Seconds
from workshops.nights.engine.model import Model
from workshops.nights.engine.model_turns import turns
from workshops.nights.engine.model_wishes import kept_placings, wishes
from workshops.nights.engine.params import PlacingParams

LARGE = 2500  # whole columns; from here on a rounded relaxation comes before the search
WHOLE = 1e-6  # nearer than this to a whole number counts as whole
SOFT_GAP = 0.005  # the softer aims need no finer proof
SLACK_POINTS = 2.0  # the production that wishes may touch is worth this many points


class NothingStands(ValueError):
    """No values fulfil the model: only placings fixed by hand can bring that about."""


@dataclass
class Clock:
    """What is left of the time allowed."""

    ends: float

    def left(self, share: float = 1.0) -> Seconds:
        """A share of it; never nothing, so that the solver can say that it found nothing."""
        return Seconds(max(0.01, (self.ends - time.perf_counter()) * share))


@dataclass(frozen=True)
class Found:
    """Values of a model's columns (empty: none in the time) and the most that can be made."""

    values: np.ndarray
    bound: float


@dataclass(frozen=True)
class Search:
    """How to look: time, seed, tolerances."""

    clock: Clock
    seed: int
    params: PlacingParams


def most_made(model: Model, search: Search) -> Found:
    """The values that make most tonight, proven within the gap if the time allows.

    Raises
    ------
    NothingStands
        When no values fulfil the model.
    """
    gap = search.params.gap
    solution, bound = _best(model.programme, search, gap, search.clock.left(0.8))
    return Found(solution.values, bound)


def _best(
    programme: Programme, search: Search, gap: float, stop: Seconds
) -> tuple[Solution, float]:
    """A solution and a bound; large programmes try the relaxation, rounded, first."""
    bound, quick = math.inf, None
    if sum(programme.is_integer) > LARGE:
        relaxed = programme.relaxed(stop)
        _refuse_nothing(relaxed)
        if relaxed.status is Status.BEST:
            bound = relaxed.objective
            quick = rounded(programme, relaxed, search, gap)
            if quick.has_values() and bound - quick.objective <= gap * abs(bound):
                return quick, bound
    solution = programme.solve(
        search.clock.left(0.8), gap=gap, seed=search.seed, keeps_few_cuts=True
    )
    _refuse_nothing(solution)
    if not math.isnan(solution.bound):
        bound = min(bound, solution.bound)
    if quick is not None and quick.has_values() and not _is_better(solution, quick):
        return quick, bound
    return solution, bound


def _refuse_nothing(solution: Solution) -> None:
    if solution.status is Status.INFEASIBLE:
        raise NothingStands("no values fulfil the model")


def _is_better(solution: Solution, other: Solution) -> bool:
    return solution.has_values() and solution.objective > other.objective


def rounded(programme: Programme, relaxed: Solution, search: Search, gap: float) -> Solution:
    """Keep what the relaxation has whole and search over the rest."""
    lower, upper = list(programme.lower), list(programme.upper)
    for column, is_integer in enumerate(programme.is_integer):
        value = float(relaxed.values[column])
        if is_integer and abs(value - round(value)) < WHOLE:
            programme.lower[column] = programme.upper[column] = float(round(value))
    try:
        return programme.solve(search.clock.left(0.3), gap=gap / 2, seed=search.seed)
    finally:
        programme.lower[:], programme.upper[:] = lower, upper


def softened(model: Model, found: Found, search: Search) -> Found:
    """The softer aims, with the benches of ``found`` open and its production kept.

    Notes
    -----
    One weighted programme: production keeps ``kept_share``, and what lies between is worth
    a wish. Benches that are open stay open, more may open. When nothing is found in the
    time, the values given are good as they are. Where the floor holds fewer than come, turns
    on it weigh most.
    """
    programme = model.programme
    made = _made(programme, found.values)
    points = wishes(model, search.params)
    points.update(turns(model, search.params.turn))
    cost = programme.cost
    kept = made - (1 - search.params.kept_share) * abs(made)
    row = {column: each for column, each in enumerate(cost) if each}
    if row:
        programme.row(row, lower=kept - programme.offset - WHOLE)
    scale = SLACK_POINTS / max(abs(made) * (1 - search.params.kept_share), 1.0)
    programme.cost = [scale * each + points.get(i, 0.0) for i, each in enumerate(cost)]
    programme.offset *= scale
    for column in model.opens.values():
        programme.lower[column] = float(round(found.values[column]))
    values = _soft_values(programme, search)
    return Found(values, found.bound) if values.size else found


def _made(programme: Programme, values: np.ndarray) -> float:
    return float(np.dot(programme.cost[: len(values)], values)) + programme.offset


def _soft_values(programme: Programme, search: Search) -> np.ndarray:
    if sum(programme.is_integer) > LARGE:
        relaxed = programme.relaxed(search.clock.left(0.5))
        if relaxed.status is Status.BEST:
            quick = rounded(programme, relaxed, search, SOFT_GAP)
            if quick.has_values():
                return quick.values
    return programme.solve(search.clock.left(0.9), gap=SOFT_GAP, seed=search.seed).values


def with_few_changes(model: Model, search: Search) -> Found:
    """Values that make much and move few: every placing that is not kept is charged.

    Raises
    ------
    NothingStands
        When no values fulfil the model.
    """
    programme, params = model.programme, search.params
    relaxed = programme.relaxed(search.clock.left(0.3))
    _refuse_nothing(relaxed)
    most = relaxed.objective if relaxed.status is Status.BEST else math.inf
    scale = abs(most) if math.isfinite(most) and abs(most) > 1 else 1.0
    charge = params.change * scale / max(1, len(model.problem.previous))
    points = wishes(model, params)
    for column in kept_placings(model):
        programme.cost[column] += max(charge, WHOLE)
    for column, each in points.items():
        programme.cost[column] += each * charge / 100
    solution, _ = _best(programme, search, params.gap, search.clock.left(0.8))
    return Found(solution.values, most)
