"""The share that fails at each step, from the club's own tallies."""

from __future__ import annotations

from datetime import timedelta

import pytest

from inventory.ledger import actions as ledger
from inventory.materials.queries import recipes_in_use
from inventory.needs.scrap import STATED_PER_MILLE, Scrap, scrap_of
from tests.inventory.winter import AT, Stock, make_stock


@pytest.fixture
def stock(shop) -> Stock:
    return make_stock(shop)


def tally(stock: Stock, good: int, scrap: int, at=AT):
    recipe = recipes_in_use(stock.shop)[stock.cylinder.pk]
    return ledger.make(shop=stock.shop, recipe=recipe, good=good, scrap=scrap, by=None, at=at)


def share(stock: Stock, **rest) -> Scrap:
    return scrap_of(stock.shop, recipes_in_use(stock.shop), **rest)[stock.cylinder.pk]


def test_before_enough_were_made_the_stated_share_counts(stock) -> None:
    tally(stock, 40, 9)
    assert share(stock) == Scrap(STATED_PER_MILLE, 49, 9, is_own=False)
    assert share(stock, stated_per_mille=100).per_mille == 100


def test_with_enough_pieces_the_clubs_own_share_counts_rounded_up(stock) -> None:
    tally(stock, 40, 3)
    tally(stock, 17, 0)
    assert share(stock) == Scrap(50, 60, 3, is_own=True)


def test_a_tally_taken_back_does_not_count(stock) -> None:
    entry = tally(stock, 50, 50)
    ledger.correct(entry, reason="twice", by=None, at=AT)
    assert share(stock).begun == 0


def test_older_tallies_are_left_out(stock) -> None:
    tally(stock, 60, 30, at=AT - timedelta(days=900))
    tally(stock, 50, 0)
    assert share(stock, since=AT - timedelta(days=700)) == Scrap(0, 50, 0, is_own=True)


def test_nothing_is_expected_to_fail_when_a_set_is_put_together(stock) -> None:
    found = scrap_of(stock.shop, recipes_in_use(stock.shop))
    assert found[stock.complete.pk].per_mille == 0


def test_offcuts_of_metal_are_no_spoiled_pieces(stock) -> None:
    recipe = recipes_in_use(stock.shop)[stock.post.pk]
    ledger.make(shop=stock.shop, recipe=recipe, good=60, by=None, at=AT)
    assert scrap_of(stock.shop, recipes_in_use(stock.shop))[stock.post.pk].spoiled == 0


def test_it_takes_one_query_for_any_number(stock, django_assert_num_queries) -> None:
    recipes = recipes_in_use(stock.shop)
    with django_assert_num_queries(1):
        scrap_of(stock.shop, recipes)
