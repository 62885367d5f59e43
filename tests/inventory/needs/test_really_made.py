"""Sets possible, checked by really making them from the book, until one is refused."""

from __future__ import annotations

from random import Random

import pytest

from inventory.ledger import actions as ledger
from inventory.ledger.queries import on_hand
from inventory.materials.queries import recipes_in_use
from inventory.measures.lengths import feet, inches
from inventory.needs.queries import needs_of
from tests.factories import make_item, make_recipe
from tests.inventory.winter import AT, Stock, make_stock


@pytest.fixture
def stock(shop) -> Stock:
    """Post and head from their own tube, so that best fit cuts as well as any cut list."""
    stock = make_stock(shop)
    other = make_item(shop, slug="rod", name="Rod", kind="metal", home=stock.tube.home)
    recipes = recipes_in_use(shop)
    recipes[stock.head.pk].lines.all().delete()
    recipes[stock.head.pk].lines.create(item=other, quantity=2, length_um=inches(20))
    stock.rings.keep_at_least = 0
    stock.rings.save()
    stock.rod = other
    return stock


def lay_out(stock: Stock, draw: Random) -> None:
    """Some sticks and drops, bales, rings, half-made parts and finished sets."""
    for metal in (stock.tube, stock.rod):
        for length in (feet(20), inches(draw.choice([30, 61, 85, 130]))):
            if count := draw.randint(0, 3):
                stock.bring(metal, count, length)
    for item in (stock.post, stock.head, stock.cylinder, stock.complete):
        if count := draw.randint(0, 3):
            stock.bring(item, count)
    stock.bring(stock.straw, draw.choice(["0.25", "0.9", "1.5", "2"]))
    stock.bring(stock.rings, draw.choice(["0.1", "0.45", "1"]))


def made_by_hand(stock: Stock) -> int:
    """Make a set again and again, its parts first where the rack has none, until one is refused."""
    recipes = recipes_in_use(stock.shop)
    finished = good(stock, stock.complete)
    while True:
        try:
            for part in (stock.post, stock.head, stock.cylinder):
                if not good(stock, part):
                    make(stock, recipes[part.pk])
            make(stock, recipes[stock.complete.pk])
        except ledger.NotEnough:
            return finished + int(good(stock, stock.complete) - finished)


def make(stock: Stock, recipe) -> None:
    ledger.make(shop=stock.shop, recipe=recipe, good=1, by=None, at=AT, cover_shortfall=False)


def good(stock: Stock, item) -> int:
    return int(on_hand(stock.shop, [item])[0].good)


@pytest.mark.parametrize("seed", range(8))
def test_sets_possible_are_the_sets_that_can_really_be_made(stock: Stock, seed: int) -> None:
    lay_out(stock, Random(seed))
    wanted = {stock.complete.pk: 60}
    told = needs_of(stock.shop, wanted).mix
    assert told.is_exact
    assert told.sets == made_by_hand(stock)


def test_two_kinds_share_a_part_as_the_mix_says(stock: Stock) -> None:
    """Four heads for two kinds: three tall and one low in a mix of two to one, really made."""
    low = make_item(stock.shop, slug="low", name="Low set", kind="set", home=stock.post.home)
    make_recipe(low, (stock.head, 1, 0), (stock.cylinder, 1, 0))
    for item, count in ((stock.head, 4), (stock.cylinder, 9), (stock.post, 9)):
        stock.bring(item, count)
    mix = needs_of(stock.shop, {stock.complete.pk: 20, low.pk: 10}).mix
    parts = {item.slug: count for item, count in mix.parts}
    assert parts == {"set": 3, "low": 1}
    recipes = recipes_in_use(stock.shop)
    for item, count in mix.parts:
        for _ in range(count):
            make(stock, recipes[item.pk])
    with pytest.raises(ledger.NotEnough):
        make(stock, recipes[low.pk])
