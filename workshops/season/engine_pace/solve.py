"""The pace's one public function."""

from __future__ import annotations

from inventory.engines.milp import Solution, Status
from inventory.engines.stop import Seconds
from workshops.season.engine import learn, shop
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.problem import Problem
from workshops.season.engine_pace import model
from workshops.season.engine_pace.model import Model
from workshops.season.engine_pace.plan import NightPace, Pace

DEFAULTS = OutlookParams()


def solve(
    problem: Problem, *, stop: Seconds, seed: int = 7, params: OutlookParams = DEFAULTS
) -> Pace:
    """The most sets, soonest, when every chance comes out at its mean.

    Parameters
    ----------
    problem, params
        Those of the outlook.
    stop, seed
        Handed to HiGHS; the programme is linear and usually done in a few hundredths.

    Returns
    -------
    Pace
        Empty of nights when none are left.

    Raises
    ------
    RuntimeError
        When HiGHS gives no solution: making nothing is always one, so that is a fault here.

    Notes
    -----
    People are divisible, a piece made tonight may be used tonight, pairs are not kept together,
    and learning stands at what it will be half-way: so the pace is brighter than the outlook's
    middle, and for a club without chance or learning it is an upper bound. Prices hold for
    small changes only: rank a whole new welder by solving again.
    """
    if not problem.nights:
        return Pace(problem.target, float(problem.finished), (), {}, True, 0.0)
    laid_out = shop.laid_out(problem, learn.beliefs_of(problem, params), params)
    built = model.built(laid_out)
    solution = built.programme.solve(stop, seed=seed)
    if not solution.has_values():
        raise RuntimeError(f"no pace was found: {solution.status.value}")
    nights = tuple(_night(built, solution, index) for index in range(len(laid_out.nights)))
    return Pace(
        target=problem.target,
        sets=nights[-1].sets,
        nights=nights,
        worth=_worth(built, solution),
        is_proven=solution.status is Status.BEST,
        seconds=solution.seconds,
    )


def _night(built: Model, solution: Solution, index: int) -> NightPace:
    problem, columns, values = built.shop.problem, built.columns, solution.values
    sets = sum(values[c] for (night, _), c in columns.sets.items() if night <= index)
    tonight = built.shop.nights[index]
    pieces = {job.id: float(values[columns.pieces[index, job.index]]) for job in tonight.jobs}
    return NightPace(
        date=tonight.night.date,
        sets=problem.finished + float(sets),
        pieces={name: max(count, 0.0) for name, count in pieces.items()},
        benches=_benches(built, solution, index),
    )


def _benches(built: Model, solution: Solution, index: int) -> dict[str, float]:
    columns, tonight = built.columns, built.shop.nights[index]
    used: dict[str, float] = {}
    for (night, job, _), column in [*columns.hours.items(), *columns.learning.items()]:
        if night == index:
            station = built.shop.problem.stations[built.shop.jobs[job].station]
            minutes = model.minutes(tonight, hot=built.shop.jobs[job].hot)
            share = float(solution.values[column]) / max(minutes * station.crew_max, 1e-9)
            used[station.id] = used.get(station.id, 0.0) + share
    return used


def _worth(built: Model, solution: Solution) -> dict[str, float]:
    """Finished sets for one piece more on each rack: the price of its first balance."""
    rows = built.columns.first_balance
    items = built.shop.problem.items
    return {items[i].id: max(float(solution.row_duals[row]), 0.0) for i, row in rows.items()}
