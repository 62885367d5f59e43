"""When to order what is always kept."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from inventory.ledger import actions as ledger
from inventory.needs.actions import work_out
from inventory.needs.queries import latest_needs
from inventory.needs.reordering import order_when
from tests.factories import make_item
from tests.inventory.winter import AT, Stock, make_stock

TODAY = date(2026, 1, 14)


@pytest.fixture
def stock(shop) -> Stock:
    stock = make_stock(shop)
    stock.rings.lead_days, stock.rings.keep_at_least = 7, 2
    stock.rings.save()
    stock.bring(stock.rings, 5)
    return stock


def test_nothing_is_always_kept_and_nothing_is_said(shop) -> None:
    assert order_when(shop, None, AT) == ()


def test_demand_of_the_plan_over_the_lead_time_and_the_reserve(stock) -> None:
    """100 sets take 10 boxes in 28 days; in 7 days 2.5; with 2 in reserve order at 4.5, so 5."""
    nights = [(TODAY + timedelta(days=7 * week), 25) for week in range(1, 5)]
    work_out(shop=stock.shop, wanted={stock.complete.pk: 100}, today=TODAY, nights=nights, by=None)
    (line,) = order_when(stock.shop, latest_needs(stock.shop), AT)
    assert (line.used, line.days, line.order_at, line.is_planned) == (10, 28, 5, True)
    assert line.is_due


def test_what_no_parts_list_takes_is_told_by_what_left_the_shelf(stock) -> None:
    """24 pairs in 84 days and 14 days to come are 4; with 6 in reserve order at 10."""
    gloves = make_item(stock.shop, kind="small", keep_at_least=6, lead_days=14)
    stock.bring(gloves, 40)
    counted = [ledger.Counted(gloves, 0, "good", Decimal(16))]
    ledger.count(shop=stock.shop, place=gloves.home, counted=counted, by=None, at=AT)
    line = next(row for row in order_when(stock.shop, None, AT) if row.item == gloves)
    assert (line.used, line.order_at, line.is_planned, line.is_due) == (24, 10, False, False)


def test_what_was_used_long_ago_says_nothing(stock) -> None:
    ledger.scrap(
        shop=stock.shop, item=stock.rings, quantity=Decimal(3), place=stock.rings.home,
        reason="rust", by=None, at=AT,
    )  # fmt: skip
    (line,) = order_when(stock.shop, None, AT + timedelta(days=85))
    assert (line.used, line.order_at) == (0, 2)
