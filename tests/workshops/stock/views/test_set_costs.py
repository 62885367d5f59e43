"""The page of what a set costs."""

from __future__ import annotations

from decimal import Decimal
from uuid import uuid4

import pytest
from django.urls import reverse

from inventory.deliveries.actions import Arrival, receive
from tests.inventory.winter import AT, Stock, make_stock


@pytest.fixture
def stock(shop, clock) -> Stock:
    return make_stock(shop)


def shown(stock: Stock, client, day: str = "2026-01-14") -> str:
    return client.get(
        reverse("stock:set_costs", args=[stock.shop.slug]), {"day": day}
    ).content.decode()


def test_a_gift_on_hold_is_told_and_not_counted(stock, client_of, storekeeper) -> None:
    gift = Arrival(item=stock.straw, quantity=Decimal(8), value=Decimal(40), hold_because="damp")
    receive(
        shop=stock.shop, source="Oskar", is_donated=True, lines=[gift], by=None, at=AT,
        client_key=uuid4(),
    )  # fmt: skip
    page = shown(stock, client_of(storekeeper))
    assert "gifts worth 40.00 wait on hold" in page
    assert "and 0.00 USD given" in page


def test_before_the_gift_came_nothing_waits(stock, client_of, storekeeper) -> None:
    assert "wait on hold" not in shown(stock, client_of(storekeeper), day="2026-01-01")
