"""A loft with straw in it, and a short way to probe."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest

from inventory.ledger.actions import goods_in
from inventory.materials.models import Item
from inventory.places.models import Shop
from inventory.readings.actions import take_reading
from inventory.readings.models import Reading
from tests.factories import make_item, make_place

NOW = datetime(2026, 1, 14, 12, 0, tzinfo=UTC)
Probe = Callable[..., Reading]


@pytest.fixture
def straw(shop: Shop, clock: Any) -> Item:
    """Twenty bales of straw in the loft."""
    loft = make_place(shop, name="Loft")
    straw = make_item(shop, name="Straw", kind=Item.Kind.FILL, unit="bale", home=loft)
    goods_in(
        shop=shop, item=straw, quantity=Decimal(20), place=loft, source="A farm",
        is_donated=True, by=None, at=NOW,
    )  # fmt: skip
    return straw


@pytest.fixture
def probe(straw: Item) -> Probe:
    """Takes a reading so many hours before noon."""

    def take(temperature: str | None = None, *, hours_ago: float = 0, **rest: Any) -> Reading:
        warm = Decimal(temperature) if temperature else None
        at = NOW - timedelta(hours=hours_ago)
        usual = {"item": straw, "place": straw.home, "by": None, "at": at, "temperature": warm}
        return take_reading(shop=straw.shop, **(usual | rest))

    return take
