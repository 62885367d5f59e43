"""Column generation: the bound it proves is never above what can be done."""

from __future__ import annotations

import random

import pytest
from hypothesis import assume, given

from inventory.cutting.engine.baseline import best_fit_decreasing
from inventory.cutting.engine.generate import generate
from inventory.cutting.engine.model import reduce
from inventory.cutting.engine.params import CuttingParams
from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.engine.search import Clock, Search
from inventory.engines.stop import Seconds
from tests.examples import examples
from tests.inventory.cutting.engine.brute import least_cost, tiny_problem
from tests.inventory.cutting.engine.some import problems


def begun(problem: CutProblem, params: CuttingParams = CuttingParams()) -> Search:  # noqa: B008
    figures = reduce(problem)
    return Search(figures, params, Clock(Seconds(10)), 1, best_fit_decreasing(figures))


def test_the_textbook_bound_is_452_and_a_quarter_rolls():
    pieces = zip((45, 36, 31, 14), (97, 610, 395, 211), strict=True)
    problem = CutProblem(tuple(Piece(f"{s}", s, n) for s, n in pieces), (Stick("roll", 100),))
    search = begun(problem)
    found = generate(search)
    assert found is not None
    assert found[1].bound / search.scale == pytest.approx(45_225, rel=1e-9)
    assert search.bound == 45_300  # whole rolls


@given(problems())
@examples(40)
def test_no_pattern_beats_the_final_prices(problem):
    search = begun(problem)
    assume(any(search.figures.demand) and not any(search.figures.left_out(search.best or {})))
    found = generate(search)
    assert found is not None
    prices = found[1]
    layers = search.inner.layers(prices.sizes)
    for j, costs in enumerate(search.costs):
        gains = layers[-1][: len(costs)] - costs * search.scale - prices.charges.get(j, 0)
        assert gains[1:].max(initial=0) <= 0


def with_best() -> list[tuple[CutProblem, int]]:
    """Tiny lists that can be cut whole, with their least cost."""
    tiny = [tiny_problem(random.Random(seed)) for seed in range(60)]
    costs = [(problem, *least_cost(problem)) for problem in tiny]
    return [(problem, cost) for problem, missing, cost in costs if not missing]


@pytest.mark.parametrize(("problem", "best"), with_best())
def test_rounded_totals_still_give_a_bound_below_the_best(problem: CutProblem, best: int):
    search = begun(problem, CuttingParams(most_sums=3))
    generate(search)
    assert 0 <= search.bound <= best
