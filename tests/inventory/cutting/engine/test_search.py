"""What the search knows: time, costs, steps, and which plans it takes."""

from __future__ import annotations

from inventory.cutting.engine.model import reduce
from inventory.cutting.engine.params import CuttingParams
from inventory.cutting.engine.patterns import Pattern
from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.engine.search import Clock, Search
from inventory.engines.stop import Seconds

TWO_FOURS = CutProblem((Piece("a", 4, 2),), (Stick("s", 10), Stick("t", 6)))


def begun(problem: CutProblem, **params: int) -> Search:
    return Search(reduce(problem), CuttingParams(**params), Clock(Seconds(5)), 1)


def test_a_clock_runs_out():
    assert Clock(Seconds(1e-9)).is_up()
    assert not Clock(Seconds(60)).is_up()
    assert 29 < Clock(Seconds(60)).share(0.5).seconds <= 30


def test_a_plan_is_taken_when_it_is_whole_and_costs_less():
    search = begun(TWO_FOURS)
    assert not search.offer({Pattern(0, (1,)): 1})  # one piece short
    assert search.offer({Pattern(1, (1,)): 2})
    assert search.cost == 12
    assert search.offer({Pattern(0, (2,)): 1})
    assert not search.offer({Pattern(1, (1,)): 2})
    assert search.cost == 10


def test_costs_rise_in_the_common_step_of_the_sticks():
    """Every plan of 10s and 6s costs a multiple of 2, so a bound of 7 is one of 8."""
    search = begun(TWO_FOURS)
    assert search.step == 2
    search.raise_bound(7)
    assert search.bound == 8
    search.raise_bound(3)
    assert search.bound == 8


def test_a_plan_that_meets_the_bound_closes_the_search():
    search = begun(TWO_FOURS)
    search.offer({Pattern(0, (2,)): 1})
    assert not search.is_closed
    search.raise_bound(10)
    assert search.is_closed


def test_too_many_totals_are_looked_at_on_a_grid_from_both_sides():
    pieces = tuple(Piece(f"p{k}", 997 + 101 * k, 9) for k in range(4))
    search = begun(CutProblem(pieces, (Stick("s", 9_973),), keep_length=500), most_sums=20)
    assert not search.is_exact
    assert search.inner.grid > 1
    for inner, outer in zip(search.costs, search.outer_costs, strict=True):
        assert outer.min() <= inner.min()
