"""What a set costs, material by material."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest

from inventory.ledger import actions as ledger
from inventory.materials.queries import recipes_in_use
from inventory.measures.lengths import feet, inches
from inventory.needs.costing import SetCost, costs_of_sets
from inventory.needs.scrap import Scrap
from tests.factories import make_item, make_recipe
from tests.inventory.needs.test_prices import bring
from tests.inventory.winter import AT, Stock, make_stock

DAY = (AT + timedelta(days=99)).date()


@pytest.fixture
def stock(shop) -> Stock:
    return make_stock(shop)


def cost(stock: Stock, **scrap: Scrap) -> SetCost:
    failing = {getattr(stock, name).pk: share for name, share in scrap.items()}
    return costs_of_sets(stock.shop, DAY, failing)[0]


def share(stock: Stock, name: str, **scrap: Scrap):
    return next(row for row in cost(stock, **scrap).shares if row.item.slug == name)


def test_a_shop_without_parts_lists_has_no_costs(shop) -> None:
    make_item(shop, kind="set")
    assert costs_of_sets(shop, DAY, {}) == ()


def test_every_material_is_taken_through_every_parts_list(stock) -> None:
    found = {row.item.slug: row.quantity for row in cost(stock).shares}
    assert (found["straw"], found["rings"]) == (Decimal("0.25"), Decimal("0.1"))
    assert set(found) == {"tube", "straw", "rings"}


def test_metal_counts_pieces_saw_cuts_and_what_becomes_of_no_use(stock) -> None:
    """One of 84 in, two of 20 in, an eighth for each cut; offcuts on top."""
    row = share(stock, "tube")
    bare = Decimal(inches("84 1/8") + 2 * inches("20 1/8")) / 1_000_000
    assert row.pieces == ((feet(7), 1), (inches(20), 2))
    assert row.quantity == bare * (1 + row.waste)
    assert 0 <= row.waste < Decimal("0.2")
    assert not row.is_own


def test_the_clubs_own_cutting_tells_the_waste_once_it_has_cut_enough(stock) -> None:
    """Posts of 7 ft from 20-ft sticks leave 71 3/4 in, too short for a post, good for a head."""
    recipe = recipes_in_use(stock.shop)[stock.post.pk]
    stock.bring(stock.tube, 8, feet(20))
    ledger.make(shop=stock.shop, recipe=recipe, good=16, by=None, at=AT)
    row = share(stock, "tube")
    assert (row.is_own, row.waste) == (True, 0)


def test_the_waste_is_that_of_the_day_asked_for(shop) -> None:
    """Three of 30 ft from each 100 ft leave 10 ft of no use, in the rack or thrown away since.

    Two of 50 ft leave nothing, but were cut ten days later.
    """
    wire = make_item(shop, kind="metal", kerf_um=0, keep_um=feet(1), bought_length_um=feet(100))
    recipe = make_recipe(make_item(shop, kind="set"), (wire, 1, feet(30)))
    cut(recipe, good=18, days=0)
    first = Decimal(feet(10) * 6) / (feet(30) * 18)
    assert waste_of(shop, days=0) == first
    ledger.scrap(
        shop=shop, item=wire, quantity=Decimal(6), place=wire.home, length_um=feet(10),
        reason="in the way", by=None, at=AT + timedelta(days=5),
    )  # fmt: skip
    assert waste_of(shop, days=6) == first
    cut(make_recipe(make_item(shop), (wire, 1, feet(50))), good=12, days=10)
    assert waste_of(shop, days=6) == first
    assert waste_of(shop, days=10) == Decimal(feet(10) * 6) / (feet(30) * 18 + feet(50) * 12)


def cut(recipe, *, good: int, days: int) -> None:
    ledger.make(
        shop=recipe.output.shop, recipe=recipe, good=good, by=None, at=AT + timedelta(days=days)
    )


def waste_of(shop, *, days: int) -> Decimal:
    (row,) = costs_of_sets(shop, (AT + timedelta(days=days)).date(), {})[0].shares
    return row.waste


def test_drops_from_which_nothing_is_cut_are_waste_though_they_lie_in_the_rack(shop) -> None:
    """Pieces of 86 1/2 in from 100 ft leave 75 1/2 in that no parts list takes."""
    wire = make_item(shop, kind="metal", kerf_um=0, keep_um=feet(1), bought_length_um=feet(100))
    done = make_item(shop, kind="set")
    recipe = make_recipe(done, (wire, 1, inches("86 1/2")))
    ledger.goods_in(
        shop=shop, item=wire, quantity=Decimal(6), place=wire.home, length_um=feet(100),
        source="Else", is_donated=False, value=Decimal(600), by=None, at=AT,
    )  # fmt: skip
    ledger.make(shop=shop, recipe=recipe, good=78, by=None, at=AT)
    (row,) = costs_of_sets(shop, DAY, {})[0].shares
    assert row.waste == Decimal(inches("75 1/2") * 6) / (inches("86 1/2") * 78)
    # six rolls of 100 made 78 sets: each set bears its share of all six
    assert round(row.bought, 6) == round(Decimal(600) / 78, 6)


def test_bought_and_given_stand_apart(stock) -> None:
    bring(stock, stock.straw, 2, 9)
    bring(stock, stock.straw, 2, 4, is_donated=True)
    row = share(stock, "straw")
    assert (row.bought, row.given) == (Decimal("0.5625"), Decimal("0.25"))


def test_what_has_no_price_makes_the_sum_at_least(stock) -> None:
    found = cost(stock)
    assert found.unpriced == (stock.rings,)
    bring(stock, stock.rings, 1, 10)
    assert cost(stock).unpriced == ()
    assert cost(stock).bought == found.bought + 1


def test_pieces_that_fail_take_material_too(stock) -> None:
    """One cylinder in five fails: five are begun for four, a quarter more straw."""
    row = share(stock, "straw", cylinder=Scrap(200, 50, 10, is_own=True))
    assert row.quantity == Decimal("0.3125")


def test_a_batch_is_shared_out(shop) -> None:
    """A can of paint for fifty posts is a fiftieth of one in each."""
    paint, post, done = make_item(shop, kind="small"), make_item(shop), make_item(shop, kind="set")
    make_recipe(post, (paint, 1, 0), quantity=50)
    make_recipe(done, (post, 1, 0))
    (row,) = costs_of_sets(shop, DAY, {})[0].shares
    assert row.quantity == Decimal("0.02")


def test_it_takes_as_many_queries_with_more_kinds(stock, django_assert_num_queries) -> None:
    with django_assert_num_queries(8):
        costs_of_sets(stock.shop, DAY, {})
    low = make_item(stock.shop, kind="set", name="Low")
    make_recipe(low, (stock.head, 1, 0), (stock.cylinder, 1, 0))
    with django_assert_num_queries(8):
        assert len(costs_of_sets(stock.shop, DAY, {})) == 2
