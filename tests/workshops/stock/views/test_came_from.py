"""Which deliveries the pieces on the shelves came from, as the page tells it."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.factories import make_item


def test_the_delivery_is_told_with_its_supplier(stock, keeper, at) -> None:
    page = keeper.get(at("came_from", "rings")).content.decode()
    assert "goods in, 14 Jan 2026" in page
    assert "from Reed &amp; Sons" in page


def test_the_list_alone_is_given_to_the_item_page(stock, keeper, at) -> None:
    address = at("came_from", "rings")
    assert address in keeper.get(at("item", "rings")).content.decode()
    fragment = keeper.get(address, headers={"HX-Request": "true"}).content.decode()
    assert "Reed &amp; Sons" in fragment
    assert "<h1" not in fragment


def test_a_thing_that_is_not_there_came_from_nowhere(stock, keeper, at) -> None:
    make_item(stock.shop, slug="nothing")
    assert "There is none of it now" in keeper.get(at("came_from", "nothing")).content.decode()


def test_an_item_of_another_shop_is_not_found(stock, other_shop, keeper, at) -> None:
    make_item(other_shop, slug="theirs")
    assert keeper.get(at("came_from", "theirs")).status_code == 404


@pytest.mark.parametrize("times", [1, 2])
def test_the_page_takes_as_many_queries_for_a_long_history(stock, keeper, at, times) -> None:
    for _ in range(30 * times):
        stock.bring(stock.rings, 1)
    with CaptureQueriesContext(connection) as made:
        page = keeper.get(at("came_from", "rings")).content.decode()
    assert f"and {30 * times + 1 - 20} earlier batches" in page
    assert len(made) <= 11
