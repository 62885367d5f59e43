"""Needs and reorder points against textbook examples."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from inventory.ledger.actions import Counted, count
from inventory.measures.lengths import feet
from inventory.needs.engine.problem import Input, Item, Lot, NeedsProblem, Recipe, Variant
from inventory.needs.engine.reorder import order_quantity, reorder_point
from inventory.needs.engine.solve import solve
from inventory.needs.queries import needs_of
from tests.factories import make_item, make_place, make_recipe
from tests.inventory.winter import AT

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


@pytest.mark.django_db
def test_the_textbook_example_comes_out_of_a_shops_own_rows(shop):
    """The same example as items, parts lists and a stocktake; needs read back as a page does."""
    items = {key: make_item(shop, name=key, slug=key.lower(), home=None) for key in ON_HAND}
    place = make_place(shop)
    counted = [Counted(items[key], 0, "good", Decimal(n)) for key, n in ON_HAND.items() if n]
    count(shop=shop, place=place, counted=counted, by=None, at=AT)
    for output, inputs in RECIPES.items():
        make_recipe(items[output], *((items[key], n, 0) for key, n in inputs.items()))
    needs = needs_of(shop, {items["A"].pk: 50}, today=date(2026, 1, 14))
    told = {line.item.name: (int(line.gross), int(line.net)) for line in needs.exploded}
    assert told == {
        "A": (50, 40), "B": (100, 65), "C": (150, 100), "D": (800, 510), "E": (500, 320),
        "F": (300, 195), "G": (300, 195),
    }  # fmt: skip


def test_a_50_ft_roll_of_wire_makes_seven_nests_and_the_eighth_takes_another():
    """Ohio Division of Wildlife, leaflet *Mallard Nest Cylinder*: 7 ft of wire to a nest, 7
    nests to a 50-ft roll, 1 ft left.
    """
    roll = Item("wire", sticks=(Lot(feet(50), 1),), stick_length=feet(50))
    recipe = Recipe("nest", (Input("wire", 1, feet(7)),))
    plan = solve(NeedsProblem((Item("nest"), roll), (recipe,), (Variant("nest", 8),)))
    assert (plan.mix.sets, plan.mix.stopped_by) == (7, ("wire",))
    assert [(line.item, line.quantity) for line in plan.buy] == [("wire", 1)]


def test_a_farm_pond_club_of_forty_nests_buys_six_rolls():
    """The same leaflet: 40 nests of 7 ft from 50-ft rolls, seven to a roll, are six rolls."""
    roll = Item("wire", stick_length=feet(50))
    recipe = Recipe("nest", (Input("wire", 1, feet(7)),))
    plan = solve(NeedsProblem((Item("nest"), roll), (recipe,), (Variant("nest", 40),)))
    assert plan.buy[0].quantity == 6


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
