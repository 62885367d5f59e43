"""What must hold for any needs: order of input, conservation, more stock never harms."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as some

from inventory.cutting.engine.search import Clock
from inventory.engines.stop import Seconds
from inventory.needs.engine.explode import explode, wanted_of
from inventory.needs.engine.params import NeedsParams
from inventory.needs.engine.possible import possible_mix
from inventory.needs.engine.problem import Input, Item, Lot, NeedsProblem, Recipe, Variant
from inventory.needs.engine.solve import solve
from inventory.needs.engine.sticks import Steel
from tests.examples import examples
from tests.inventory.needs.engine.some import problems


def mix(problem: NeedsProblem) -> int:
    return possible_mix(problem, Steel(Clock(Seconds(20)), NeedsParams(), 7)).sets


def shuffled(draw, problem: NeedsProblem) -> NeedsProblem:
    items = draw(some.permutations(problem.items))
    recipes = [
        replace(recipe, inputs=tuple(draw(some.permutations(recipe.inputs))))
        for recipe in draw(some.permutations(problem.recipes))
    ]
    return replace(problem, items=tuple(items), recipes=tuple(recipes))


@given(some.data(), problems())
@examples(25)
def test_the_order_of_items_recipes_and_inputs_does_not_matter(data, problem):
    one, other = solve(problem), solve(shuffled(data.draw, problem))
    assert {need.item: need for need in one.needs} == {need.item: need for need in other.needs}
    assert (one.mix.sets, one.mix.parts, one.buy) == (other.mix.sets, other.mix.parts, other.buy)
    assert one.runs_out == other.runs_out


@given(problems())
@examples(60)
def test_the_explosion_conserves(problem):
    """What is asked of each item is what its users start, and what is started is there to take."""
    found = explode(problem, wanted_of(problem), with_scrap=True)
    asked = Counter(wanted_of(problem))
    for recipe in problem.recipes:
        goes = found.started[recipe.output] // recipe.makes
        for part in recipe.inputs:
            asked[part.item] += goes * part.quantity if part.length is None else 0
    for item in problem.items:
        assert found.required[item.key] == asked[item.key]
        assert found.net[item.key] + min(item.there, found.required[item.key]) == asked[item.key]


@given(problems(), some.sampled_from(["a", "b", "x", "y"]), some.integers(1, 6))
@examples(40)
def test_one_more_of_anything_never_lowers_the_sets_possible(problem, key, more):
    items = tuple(
        replace(item, on_hand=item.on_hand + more) if item.key == key else item
        for item in problem.items
    )
    # the mix that is possible already stays possible, whatever is made of the rest
    before = possible_mix(problem, Steel(Clock(Seconds(20)), NeedsParams(), 7))
    heap = replace(problem, items=items)
    assert not _short(heap, before.parts)
    assert mix(heap) >= before.even_to


@given(some.lists(some.integers(0, 9), min_size=5, max_size=5), some.integers(0, 4))
@examples(60)
def test_one_more_part_never_lowers_the_sets_of_one_kind(there, which):
    def sets(counts: list[int]) -> int:
        keys = ("v", "a", "b", "x", "y")
        items = tuple(Item(key, on_hand=n) for key, n in zip(keys, counts, strict=True))
        recipes = (
            Recipe("v", (Input("a", 1), Input("b", 2))),
            Recipe("a", (Input("x", 1), Input("y", 1))),
            Recipe("b", (Input("y", 1),)),
        )
        return mix(NeedsProblem(items, recipes, (Variant("v", 30),)))

    richer = [n + (k == which) for k, n in enumerate(there)]
    assert sets(richer) >= sets(there)


@given(some.integers(0, 4), some.integers(0, 6), some.integers(50, 240))
@examples(40)
def test_one_more_stick_never_lowers_the_sets(full, drops, inches_long):
    def sets(count: int) -> int:
        lots = (Lot(240, full), Lot(inches_long, count, is_drop=True))
        items = (Item("set"), Item("tube", sticks=lots, stick_length=240, kerf=1))
        recipe = Recipe("set", (Input("tube", 1, 90), Input("tube", 2, 34)))
        return mix(NeedsProblem(items, (recipe,), (Variant("set", 40),)))

    assert sets(drops + 1) >= sets(drops)


def _short(problem: NeedsProblem, parts: dict[str, int]) -> list[str]:
    """Bought things, steel left out, that do not suffice for these sets."""
    found = explode(problem, parts, with_scrap=False)
    made = {recipe.output for recipe in problem.recipes}
    plain = [item for item in problem.items if not item.is_cut_from_sticks]
    return [item.key for item in plain if item.key not in made and found.net[item.key]]
