"""The public door: empty, properties, order of input."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import assume, given

from inventory.needs.engine.problem import Item, Lot, NeedsProblem
from inventory.needs.engine.solve import solve
from tests.examples import examples
from tests.inventory.needs.engine.some import problems, sets_of_three


def test_nothing_at_all_is_an_empty_answer():
    plan = solve(NeedsProblem((), (), ()))
    assert (plan.needs, plan.buy, plan.runs_out, plan.mix.sets) == ((), (), (), 0)
    assert plan.is_legal()
    assert plan.explain() == ("No sets are wanted.", "Nothing runs out.")


def test_a_level_stands_above_what_it_is_made_from():
    assert [need.item for need in solve(sets_of_three()).needs] == ["set", "head", "post", "wire"]


@given(problems())
@examples(60)
def test_every_answer_recounts(problem):
    plan = solve(problem)
    assert plan.breaches() == ()
    assert plan.mix.sets <= sum(variant.wanted for variant in problem.variants)


@given(problems())
@examples(40)
def test_the_order_of_the_input_does_not_matter(problem):
    other = NeedsProblem(
        problem.items[::-1],
        problem.recipes[::-1],
        problem.variants,
        problem.nights,
        problem.today,
    )
    first, second = solve(problem), solve(other)
    assert (first.mix.sets, first.buy, first.runs_out) == (
        second.mix.sets,
        second.buy,
        second.runs_out,
    )


@given(problems())
@examples(40)
def test_what_is_possible_now_without_scrap_needs_no_buying(problem):
    """When all wanted sets are possible and nothing is expected to fail, nothing is short."""
    sure = tuple(replace(recipe, scrap_per_mille=0) for recipe in problem.recipes)
    plan = solve(replace(problem, recipes=sure))
    assume(not plan.mix.stopped_by)
    assert plan.buy == ()
    assert plan.runs_out == ()


def _with(item: Item, more: int) -> Item:
    if item.stick_length is None:
        return replace(item, on_hand=item.on_hand + more)
    return replace(item, sticks=(*item.sticks, Lot(item.stick_length, more)))


@given(problems())
@examples(40)
def test_buying_the_list_makes_all_wanted_sets_possible(problem):
    bought = {line.item: line.quantity for line in solve(problem).buy}
    stocked = NeedsProblem(
        tuple(_with(item, bought.get(item.key, 0)) for item in problem.items),
        problem.recipes,
        problem.variants,
        problem.nights,
        problem.today,
    )
    assert solve(stocked).buy == ()
