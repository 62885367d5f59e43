"""Complete sets possible now: by hand, by property, by an integer programme of SciPy's."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as some
from scipy.optimize import Bounds, LinearConstraint, milp

from inventory.cutting.engine.search import Clock
from inventory.engines.stop import Seconds
from inventory.needs.engine.params import NeedsParams
from inventory.needs.engine.possible import (
    MOST_SETS,
    largest,
    mix_order,
    possible_alone,
    possible_mix,
)
from inventory.needs.engine.problem import Input, Item, NeedsProblem, Recipe, Variant
from inventory.needs.engine.sticks import Steel
from tests.examples import examples
from tests.inventory.needs.engine.some import problems, sets_of_three, two_variants


def steel() -> Steel:
    return Steel(Clock(Seconds(20)), NeedsParams(), 7)


def test_no_variants_are_no_sets():
    mix = possible_mix(two_variants(0, 0), steel())
    assert (mix.sets, mix.stopped_by) == (0, ())


def test_finished_and_racked_parts_count():
    """3 finished; 7 wires; posts: 2 on the rack and 8 from four sticks: wire stops at 10."""
    mix = possible_mix(sets_of_three(), steel())
    assert (mix.sets, mix.finished, mix.stopped_by) == (10, 3, ("wire",))


def test_everything_that_is_short_for_one_more_is_named():
    """Two tall to one short: the fifth set is the second short one; four heads are gone by then."""
    mix = possible_mix(two_variants(head=4, long_post=9, short_post=1), steel())
    assert (mix.sets, mix.parts) == (4, {"tall": 3, "short": 1})
    assert set(mix.stopped_by) == {"head", "short post"}


def test_one_variant_alone_may_use_all_shared_parts():
    problem = two_variants(head=9, long_post=20, short_post=7)
    tall, short = (possible_alone(problem, steel(), v) for v in problem.variants)
    assert (tall.sets, tall.stopped_by) == (9, ("head",))
    assert (short.sets, short.stopped_by) == (7, ("short post",))


def test_a_kind_that_cannot_go_on_keeps_nobody_from_the_other():
    """No short post: the mix breaks at its first short set, nine tall ones are possible."""
    mix = possible_mix(two_variants(head=9, long_post=20), steel())
    assert (mix.sets, mix.even_to, mix.parts) == (9, 1, {"tall": 9, "short": 0})
    assert mix.blocked == {"short": ("short post",), "tall": ("head",)}


def test_finished_sets_stand_first_in_the_mix():
    """Four short ones stand finished; the mix goes on from them, not beside them."""
    problem = two_variants(4, 6, head=5, long_post=4, short_post=1)
    finished = (Item("short", on_hand=4), *(i for i in problem.items if i.key != "short"))
    mix = possible_mix(replace(problem, items=finished), steel())
    assert (mix.sets, mix.finished, mix.parts) == (9, 4, {"tall": 4, "short": 5})


def test_all_that_is_wanted_is_stopped_by_nothing():
    mix = possible_mix(two_variants(2, 1, head=9, long_post=9, short_post=9), steel())
    assert (mix.sets, mix.stopped_by) == (3, ())


def test_a_beginning_of_the_mix_keeps_the_mix():
    """20 tall to 10 short: after every third set the shares are exact."""
    order = mix_order(two_variants(20, 10))
    for sets in range(3, 31, 3):
        assert Counter(order[:sets]) == {"tall": 2 * sets // 3, "short": sets // 3}


@given(some.lists(some.integers(0, 40), min_size=1, max_size=4))
def test_the_whole_mix_is_exactly_what_is_wanted(numbers):
    keys = [f"v{k}" for k in range(len(numbers))]
    variants = tuple(Variant(key, n) for key, n in zip(keys, numbers, strict=True))
    order = mix_order(NeedsProblem(tuple(Item(key) for key in keys), (), variants))
    assert Counter(order) == Counter({key: n for key, n in zip(keys, numbers, strict=True) if n})


@given(some.integers(0, 200), some.integers(0, 300))
def test_halving_finds_the_last_number_that_holds(limit, most):
    assert largest(lambda n: n <= limit, most) == min(limit, most)


def test_halving_asks_seldom():
    asked = []
    assert largest(lambda n: asked.append(n) is None and n <= 777, MOST_SETS) == 777
    assert len(asked) < 25


def by_scipy(problem: NeedsProblem, variant: str) -> int:
    """Most sets of one variant as an integer programme over goes of each recipe."""
    keys = [item.key for item in problem.items if not item.is_cut_from_sticks]
    row = {key: k for k, key in enumerate(keys)}
    balance = np.zeros((len(keys), len(problem.recipes) + 1))
    for column, recipe in enumerate(problem.recipes):
        balance[row[recipe.output], column] += recipe.makes
        for part in recipe.inputs:
            if part.length is None:
                balance[row[part.item], column] -= part.quantity
    balance[row[variant], -1] = -1
    there = [problem.item(key).there for key in keys]
    cost = np.zeros(len(problem.recipes) + 1)
    cost[-1] = -1
    found = milp(
        cost,
        constraints=LinearConstraint(balance, -np.array(there), math.inf),
        integrality=np.ones(len(cost)),
        bounds=Bounds(0, 10_000),
    )
    return round(-found.fun)


@given(problems(), some.sampled_from(["v", "w"]))
@examples(60)
def test_sets_without_steel_are_what_scipy_says(problem, variant):
    recipes = tuple(
        Recipe(r.output, tuple(p for p in r.inputs if p.length is None), r.makes, r.scrap_per_mille)
        for r in problem.recipes
    )
    items = tuple(item for item in problem.items if not item.is_cut_from_sticks)
    plain = NeedsProblem(items, recipes, problem.variants)
    found = possible_alone(plain, steel(), Variant(variant, 1))
    assert found.sets == by_scipy(plain, variant)


@given(problems())
@examples(40)
def test_steel_only_lowers_what_is_possible(problem):
    found = possible_alone(problem, steel(), problem.variants[0])
    assert found.sets <= by_scipy(problem, "v")
    assert found.is_exact
    assert found.stopped_by


@pytest.mark.parametrize("on_hand", [0, 1, 7])
def test_a_bought_complete_set_counts_as_it_is(on_hand):
    problem = NeedsProblem((Item("set", on_hand=on_hand), Item("x")), (), (Variant("set", 5),))
    assert possible_alone(problem, steel(), problem.variants[0]).sets == on_hand


def test_what_is_always_kept_is_not_planned_away():
    problem = NeedsProblem(
        (Item("set"), Item("ring", on_hand=30, keep_at_least=10)),
        (Recipe("set", (Input("ring", 8),)),),
        (Variant("set", 5),),
    )
    assert possible_mix(problem, steel()).sets == 2
