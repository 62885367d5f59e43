"""Low-level codes."""

from __future__ import annotations

import pytest
from hypothesis import given

from inventory.needs.engine.levels import levels, low_level_order
from tests.inventory.needs.engine.some import problems


def test_a_part_lies_below_its_deepest_user():
    """D goes into A on top and into B one below."""
    assert levels({"A": ["B", "D"], "B": ["D"]}) == {"A": 0, "B": 1, "D": 2}


def test_nothing_made_has_no_order():
    assert low_level_order({}) == ()


def test_a_ring_of_items_is_refused():
    with pytest.raises(ValueError, match="A is needed to make itself"):
        low_level_order({"A": ["B"], "B": ["C"], "C": ["A"]})


@given(problems())
def test_every_item_stands_before_what_it_is_made_from(problem):
    order = low_level_order(problem.made_from())
    assert sorted(order) == sorted(recipe.output for recipe in problem.recipes)
    for recipe in problem.recipes:
        for part in recipe.inputs:
            if part.item in order:
                assert order.index(recipe.output) < order.index(part.item)
