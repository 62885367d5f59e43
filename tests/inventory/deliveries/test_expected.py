"""What is still to come of what was ordered."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from inventory.deliveries import ordering
from inventory.deliveries.expected import expected, lines_of, lines_of_orders
from inventory.deliveries.models import Order
from inventory.deliveries.ordering import Asked
from inventory.ledger import actions as ledger
from tests.inventory.deliveries.orders import AT, come, make_order
from tests.inventory.winter import Stock, make_stock

TODAY = date(2026, 1, 14)
DUE = date(2026, 1, 20)


@pytest.fixture
def stock(shop) -> Stock:
    return make_stock(shop)


@pytest.fixture
def order(stock: Stock) -> Order:
    return ordering.send(order=make_order(stock), on=TODAY, expected_on=DUE, by=None)


def left(shop) -> dict[str, Decimal]:
    return {row.item.slug: row.left for row in expected(shop)}


def test_a_draft_is_not_expected(stock) -> None:
    make_order(stock)
    assert expected(stock.shop) == ()


def test_all_of_a_sent_order_is_expected(stock, order) -> None:
    assert left(stock.shop) == {"tube": 10, "straw": 3}


def test_what_came_in_two_parts_is_expected_no_more(stock, order) -> None:
    line = order.lines.get(item=stock.tube)
    come(line, 4)
    come(line, 3)
    assert left(stock.shop) == {"tube": 3, "straw": 3}
    come(line, 4)
    assert left(stock.shop) == {"straw": 3}
    assert next(row for row in lines_of(order) if row.item == stock.tube).too_many == 1


def test_thousandths_are_added_exactly(stock, order) -> None:
    line = order.lines.get(item=stock.straw)
    for _ in range(3):
        come(line, Decimal("0.1"))
    assert left(stock.shop)["straw"] == Decimal("2.7")


def test_a_delivery_that_was_taken_back_never_came(stock, order) -> None:
    entry = come(order.lines.get(item=stock.tube), 4)
    ledger.correct(entry, reason="another club's", by=None, at=AT)
    assert left(stock.shop)["tube"] == 10


def test_a_closed_order_is_expected_no_more(stock, order) -> None:
    ordering.close(order=order, by=None, at=AT, why="sold out")
    assert expected(stock.shop) == ()


def test_the_earliest_comes_first_and_no_day_last(stock, order) -> None:
    for supplier, day in (("Later", date(2026, 1, 30)), ("Whenever", None)):
        lines = [Asked(stock.rings, Decimal(1))]
        other = ordering.draft(shop=stock.shop, supplier=supplier, by=None, at=AT, lines=lines)
        ordering.send(order=other, on=TODAY, expected_on=day, by=None)
    suppliers = [row.order.supplier for row in expected(stock.shop)]
    assert suppliers == ["Reed & Sons", "Reed & Sons", "Later", "Whenever"]


def test_a_line_is_late_only_after_its_day_and_while_something_is_missing(stock, order) -> None:
    tube = expected(stock.shop)[0]
    assert not tube.is_late(DUE)
    assert tube.is_late(date(2026, 1, 21))
    come(tube.line, 10)
    assert not any(row.is_late(date(2026, 1, 21)) for row in lines_of(order) if not row.left)


def test_nothing_of_another_shop_is_expected(order, other_shop) -> None:
    assert expected(other_shop) == ()


def test_it_takes_one_query_for_any_number(stock, order, django_assert_num_queries) -> None:
    with django_assert_num_queries(1):
        [row.item.shop for row in expected(stock.shop)]
    with django_assert_num_queries(1):
        assert len(lines_of_orders([order])[order.pk]) == 2
