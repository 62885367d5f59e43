"""Needs and reorder points against textbook examples."""

from __future__ import annotations

from fractions import Fraction

import pytest

from inventory.needs.engine.problem import Input, Item, NeedsProblem, Recipe, Variant
from inventory.needs.engine.reorder import order_quantity, reorder_point
from inventory.needs.engine.solve import solve

ON_HAND = {"A": 10, "B": 15, "C": 20, "D": 10, "E": 10, "F": 5, "G": 0}
RECIPES = {
    "A": {"B": 2, "C": 3},
    "B": {"D": 2, "E": 2},
    "C": {"E": 2, "F": 2},
    "F": {"D": 2, "G": 1},
}


@pytest.fixture(scope="module")
def speakers():
    recipes = tuple(
        Recipe(output, tuple(Input(key, n) for key, n in inputs.items()))
        for output, inputs in RECIPES.items()
    )
    items = tuple(Item(key, on_hand=count) for key, count in ON_HAND.items())
    return solve(NeedsProblem(items, recipes, (Variant("A", 50),)))


def test_the_textbook_explosion_gives_its_gross_needs(speakers):
    """Heizer & Render, *Operations Management*, ch. 14 (*from memory*, recomputed)."""
    gross = {need.item: need.gross for need in speakers.needs}
    assert gross == {"A": 50, "B": 100, "C": 150, "D": 800, "E": 500, "F": 300, "G": 300}


def test_the_textbook_netting_uses_up_what_is_on_hand(speakers):
    """The same example; D and E are shared by two assemblies and netted once."""
    net = {need.item: need.net for need in speakers.needs}
    assert net == {"A": 40, "B": 65, "C": 100, "D": 510, "E": 320, "F": 195, "G": 195}


def test_the_textbook_reorder_point_is_96():
    """Heizer & Render, ch. 12 (*from memory*): 8,000 a year, 250 days, 3 days to come."""
    assert reorder_point(8000, 250, 3) == 96


def test_safety_stock_raises_the_reorder_point():
    """The same chapter: 1.65 standard deviations of 10 are 16.5; whole pieces round up."""
    assert reorder_point(8000, 250, 3, safety=Fraction("16.5")) == 113


def test_the_textbook_order_quantity_is_200_and_costs_100_a_year():
    """Heizer & Render, ch. 12 (*from memory*): 1,000 a year, 10 an order, 0.50 to keep one."""
    quantity = order_quantity(1000, Fraction(10), Fraction("0.50"))
    orders = Fraction(1000, quantity)
    assert (quantity, orders) == (200, 5)
    assert orders * 10 + Fraction(quantity, 2) * Fraction("0.50") == 100
