"""A shop at whose door things arrive, with an order on its way."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest

from inventory.deliveries import actions
from inventory.deliveries.arrivals import Arrival
from inventory.deliveries.models import Delivery, Order, OrderLine
from inventory.ledger.queries import on_hand_of
from inventory.materials.models import Item
from inventory.measures.lengths import feet
from inventory.places.models import Shop
from tests.inventory.winter import AT, Stock, make_stock


@dataclass
class Door:
    """The stock, and short ways to bring things in."""

    stock: Stock
    order: Order

    def line(self, item: Item, quantity: int | str, length_um: int = 0, **rest: Any) -> Arrival:
        return Arrival(item=item, quantity=Decimal(quantity), length_um=length_um, **rest)

    def tubes(self, quantity: int | str = 4, **rest: Any) -> Arrival:
        return self.line(self.stock.tube, quantity, feet(20), **rest)

    def receive(self, *lines: Arrival, **rest: Any) -> Delivery:
        usual = {"source": "Reed & Sons", "is_donated": False, "by": None, "at": AT}
        given = usual | {"client_key": uuid4()} | rest
        return actions.receive(shop=self.stock.shop, lines=lines, **given)

    def there(self, item: Item) -> tuple[Decimal, Decimal]:
        """How many are good, and how many on hold."""
        found = on_hand_of(item)
        return found.good, found.hold


@pytest.fixture
def door(shop: Shop) -> Door:
    """Nothing lies there; ten tubes and two boxes of rings are on their way."""
    stock = make_stock(shop)
    order = Order.objects.create(
        shop=shop, number=7, supplier="Reed & Sons", state=Order.State.SENT, sent_on=AT.date()
    )
    OrderLine.objects.create(
        order=order, item=stock.tube, length_um=feet(20), quantity=10, unit_price=Decimal("30.10")
    )
    OrderLine.objects.create(order=order, item=stock.rings, quantity=2)
    return Door(stock, order)
