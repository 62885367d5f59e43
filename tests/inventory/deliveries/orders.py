"""An order for ten sticks and three bales, and deliveries against its lines."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal

from inventory.deliveries import ordering
from inventory.deliveries.models import Delivery, Order, OrderLine, Received
from inventory.deliveries.ordering import Asked
from inventory.ledger import actions as ledger
from inventory.ledger.models import Entry
from tests.inventory.winter import Stock

AT = datetime(2026, 1, 14, 19, 0, tzinfo=UTC)


def make_order(stock: Stock) -> Order:
    """A draft to Reed & Sons."""
    lines = [Asked(stock.tube, Decimal(10), unit_price=Decimal(30)), Asked(stock.straw, Decimal(3))]
    return ordering.draft(shop=stock.shop, supplier="Reed & Sons", by=None, at=AT, lines=lines)


def come(line: OrderLine, quantity: Decimal | int) -> Entry:
    """So many of a line come and are booked in."""
    order, item = line.order, line.item
    entry = ledger.goods_in(
        shop=order.shop, item=item, quantity=Decimal(quantity), place=item.home,
        length_um=line.length_um, source=order.supplier, is_donated=False, by=None, at=AT,
    )  # fmt: skip
    delivery = Delivery.objects.create(shop=order.shop, source=order.supplier, order=order)
    Received.objects.create(delivery=delivery, entry=entry, order_line=line)
    return entry
