"""The public door: empty, hand-checkable, one rule alone, properties, seeds and time."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as some

from inventory.cutting.engine.baseline import best_fit_decreasing
from inventory.cutting.engine.model import reduce
from inventory.cutting.engine.params import CuttingParams
from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.engine.solve import solve
from inventory.engines.stop import Seconds
from tests.examples import examples
from tests.inventory.cutting.engine.some import one_stick, problems, shuffled, stems_and_bars


def test_nothing_wanted_is_an_empty_plan():
    plan = solve(CutProblem((), ()))
    assert (plan.runs, plan.missing, plan.cost, plan.is_proven) == ((), (), 0, True)
    assert plan.explain() == ("Nothing is cut.",)


def test_no_sticks_at_all_leaves_everything_missing():
    plan = solve(CutProblem((Piece("a", 10, 2),), (), kerf=1))
    assert plan.missing[0].count == 2
    assert plan.metal_missing == plan.least_missing == 22


def test_two_halves_fit_a_stick_without_kerf_and_not_with_one():
    assert solve(one_stick(100, 50, 50)).is_complete
    assert not solve(one_stick(100, 50, 50, kerf=1)).is_complete


def test_the_last_piece_needs_no_kerf():
    assert solve(one_stick(101, 50, 50, kerf=1)).is_complete


def test_trim_takes_both_ends():
    assert solve(one_stick(100, 90, trim=5)).is_complete
    assert not solve(one_stick(100, 91, trim=5)).is_complete


def test_a_drop_is_used_before_a_new_stick_when_it_does():
    problem = CutProblem((Piece("a", 40, 1),), (Stick("new", 100), Stick("d", 45, 1, is_drop=True)))
    assert solve(problem).sticks_out == {"d": 1}


def test_no_drop_is_cut_up_for_nothing():
    """A drop that costs what its remnant is credited with must not be sawn for its own sake."""
    problem = CutProblem(
        (Piece("a", 10, 1),),
        (Stick("new", 100), *(Stick(f"d{k}", 90, 5, is_drop=True) for k in range(3))),
        keep_length=5,
        keep_percent=99,
    )
    plan = solve(problem)
    assert (plan.stick_count, plan.made["a"], plan.is_proven) == (1, 1, True)


def test_a_long_remnant_is_preferred_to_two_short_ends():
    """30 + 30 from one stick of 100 returns 40; one from each stick would waste both ends."""
    problem = CutProblem((Piece("a", 30, 2),), (Stick("s", 100),), keep_length=35)
    plan = solve(problem)
    assert [(drop.length, drop.count) for drop in plan.drops] == [(40, 1)]


def test_money_decides_where_sticks_have_a_price():
    """Two short ones for 30 beat one long one for 40 and lose to it at 50."""
    pieces = (Piece("a", 50, 2),)
    for price, taken in ((15, {"short": 2}), (25, {"long": 1})):
        sticks = (Stick("long", 100, None, 40), Stick("short", 50, None, price))
        assert solve(CutProblem(pieces, sticks)).sticks_out == taken


def test_when_sticks_run_out_as_much_metal_as_possible_is_cut():
    """One stick of 100 for 60, 55 and 45: 55 + 45 fill it, the 60 is missing."""
    plan = solve(one_stick(100, 60, 55, 45))
    assert [(part.length, part.count) for part in plan.missing] == [(60, 1)]
    assert (plan.metal_missing, plan.least_missing, plan.is_proven) == (60, 60, True)


def test_a_piece_no_stick_is_long_enough_for_is_told_apart_from_sticks_that_run_out():
    problem = CutProblem((Piece("a", 120, 1), Piece("b", 60, 2)), (Stick("s", 100, 1),))
    told = {part.piece: part.is_too_long for part in solve(problem).missing}
    assert told == {"a": True, "b": False}


@given(problems())
@examples(30)
def test_every_plan_is_legal_and_never_worse_than_best_fit(problem):
    plan = solve(problem, Seconds(2))
    figures = reduce(problem)
    by_hand = best_fit_decreasing(figures)
    assert plan.breaches() == ()
    if not any(figures.left_out(by_hand)):
        assert plan.cost <= figures.total(by_hand)


@given(problems(), some.integers(0, 9))
@examples(30)
def test_the_order_of_the_input_does_not_matter(problem, seed):
    plan, other = solve(problem, Seconds(5)), solve(shuffled(problem, seed), Seconds(5))
    assert (plan.metal_missing, plan.cost) == (other.metal_missing, other.cost)


@given(problems())
@examples(40)
def test_one_more_stick_never_makes_it_worse(problem):
    more = CutProblem(
        problem.pieces,
        (*problem.sticks, Stick("another", 77, 1)),
        problem.kerf,
        problem.trim,
        problem.keep_length,
        problem.keep_percent,
    )
    plan, better = solve(problem, Seconds(5)), solve(more, Seconds(5))
    assert (better.metal_missing, better.cost if better.is_complete == plan.is_complete else 0) <= (
        plan.metal_missing,
        plan.cost,
    )


def test_the_same_seed_gives_the_same_plan():
    first, second = solve(stems_and_bars(97), seed=3), solve(stems_and_bars(97), seed=3)
    assert first.runs == second.runs


def test_no_time_still_gives_a_legal_plan_with_an_honest_gap():
    problem = stems_and_bars(331, keep_length=500_000)
    plan = solve(problem, Seconds(1e-6))
    assert plan.breaches() == ()
    assert plan.is_complete
    assert plan.bound <= solve(problem).cost


@pytest.mark.parametrize("most", [1, 5, 50])
def test_rounded_totals_still_give_legal_plans(most):
    plan = solve(stems_and_bars(50), params=CuttingParams(most_sums=most))
    assert plan.breaches() == ()
    assert plan.cost >= solve(stems_and_bars(50)).cost >= plan.bound
