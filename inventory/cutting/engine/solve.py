"""The public door of the cut-list engine."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from inventory.cutting.engine.baseline import best_fit_decreasing, cut_set_by_set
from inventory.cutting.engine.brim import fill_to_the_brim
from inventory.cutting.engine.generate import generate
from inventory.cutting.engine.layout import runs_of
from inventory.cutting.engine.model import Figures, Taken, reduce
from inventory.cutting.engine.params import CuttingParams
from inventory.cutting.engine.plan import CutPlan, Missing, Run
from inventory.cutting.engine.problem import CutProblem
from inventory.cutting.engine.proof import close
from inventory.cutting.engine.rounding import round_off
from inventory.cutting.engine.search import Clock, Search
from inventory.engines.stop import Seconds

DEFAULT_STOP = Seconds(5)
DEFAULT_PARAMS = CuttingParams()


def solve(
    problem: CutProblem,
    stop: Seconds = DEFAULT_STOP,
    seed: int = 7,
    params: CuttingParams = DEFAULT_PARAMS,
) -> CutPlan:
    """The cut list that costs least, with the bound that says how sure that is.

    Parameters
    ----------
    problem
        Pieces, sticks and saw; lengths in micrometres.
    stop
        Wall clock for the search; the best plan so far is given when it ends.
    seed
        For HiGHS and for the order of the runs, 0 or more.
    params
        Limits of the search.

    Returns
    -------
    CutPlan
        Legal always. When not everything can be cut, ``missing`` says which pieces and how
        much metal, and the plan cuts as much metal into pieces as there is room for.

    Notes
    -----
    Three steps: best fit by hand; patterns priced in by column generation, which gives the
    bound; a choice in whole numbers among all patterns that could still matter, which closes
    it. When sticks are short, a first search finds what must stay missing. Bounds of prices
    are exact in integers; the last choice is exact to HiGHS's own tolerance, which is less
    than the width of a saw's tooth.

    Source: Gilmore and Gomory 1961; the closing step is the usual one by reduced costs.
    """
    clock = Clock(stop)
    figures = reduce(problem)
    start = best_fit_decreasing(figures)
    least_missing = _never_cut(figures)
    if any(figures.left_out(start)):
        # first what must stay missing, then the cheapest way to cut the rest
        half = Clock(clock.share(0.5))
        short = Search(replace(figures, counts_missing=True), params, half, seed, start)
        start = _searched(short)
        least_missing += short.bound
        left_out = figures.left_out(start)
        demand = (want - out for want, out in zip(figures.demand, left_out, strict=True))
        figures = replace(figures, demand=tuple(demand))
    search = Search(figures, params, clock, seed, start)
    runs = runs_of(figures, _searched(search), tries=params.order_tries, seed=seed)
    return CutPlan(
        problem=problem,
        runs=runs,
        missing=_missing(problem, runs),
        cost=search.cost,
        bound=search.bound,
        seconds=clock.spent(),
        least_missing=least_missing,
        set_by_set=cut_set_by_set(problem),
    )


def _searched(search: Search) -> Taken:
    """Fill to the brim, generate, round, close: the best plan found in the time."""
    if any(search.figures.demand) and not search.is_closed:
        fill_to_the_brim(search)
    if any(search.figures.demand) and not search.is_closed:
        found = generate(search)
        if found is not None and not search.is_closed:
            relaxed, prices = found
            round_off(search, relaxed)
            close(search, relaxed, prices)
    return search.best or {}


def _never_cut(figures: Figures) -> int:
    """Metal of the pieces that no stick at hand is long enough for."""
    wanted = sum((p.length + figures.problem.kerf) * p.count for p in figures.problem.pieces)
    return wanted - figures.taken(figures.demand)


def _missing(problem: CutProblem, runs: tuple[Run, ...]) -> tuple[Missing, ...]:
    made: Counter[str] = Counter()
    for run in runs:
        for label, count in run.counts.items():
            made[label] += count * run.times
    # sticks of which none is left count here: the piece is not too long, they ran out
    longest = max((problem.room(stick) for stick in problem.sticks), default=0)
    found = []
    for piece in problem.pieces:
        count, size = piece.count - made[piece.label], piece.length + problem.kerf
        if count > 0:
            found.append(Missing(piece.label, piece.length, count, count * size, size > longest))
    return tuple(found)
