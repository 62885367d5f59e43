"""What is still to come of the orders that were sent: ordered less received."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import BigIntegerField, F, Q, QuerySet, Sum
from django.db.models.functions import Cast, Coalesce, Round

from inventory.deliveries.models import Order, OrderLine
from inventory.ledger.models import Line
from inventory.materials.models import Item
from inventory.places.models import Shop

THOUSANDTHS = 1000


@dataclass(frozen=True, slots=True)
class Coming:
    """One line of an order: how many were asked for, and how many of them came so far."""

    line: OrderLine
    received: Decimal

    @property
    def item(self) -> Item:
        """What was ordered."""
        return self.line.item

    @property
    def order(self) -> Order:
        """The order the line stands on."""
        return self.line.order

    @property
    def left(self) -> Decimal:
        """How many are still to come; 0 when all came, or more than was asked for."""
        return max(Decimal(), self.line.quantity - self.received)

    @property
    def too_many(self) -> Decimal:
        """How many came beyond what was asked for."""
        return max(Decimal(), self.received - self.line.quantity)

    def is_late(self, today: date) -> bool:
        """Whether something is missing that should be here by now."""
        day = self.order.expected_on
        return bool(self.left) and day is not None and day < today


def expected(shop: Shop) -> tuple[Coming, ...]:
    """What is still to come to a shop, the earliest first; no day known comes last. 1 query.

    Only of orders that were sent and are neither closed nor cancelled; empty when all came.
    """
    rows = _with_received(OrderLine.objects.filter(order__shop=shop, order__state=Order.State.SENT))
    coming = [row for row in _told(rows) if row.left]
    return tuple(sorted(coming, key=lambda row: (row.order.expected_on or date.max, row.line.pk)))


def lines_of(order: Order) -> tuple[Coming, ...]:
    """Every line of one order with what came against it, in the order written. 1 query."""
    return tuple(_told(_with_received(OrderLine.objects.filter(order=order))))


def lines_of_orders(orders: Iterable[Order]) -> dict[int, list[Coming]]:
    """The lines of several orders by order. 1 query; an order without lines is left out."""
    found: dict[int, list[Coming]] = {}
    for row in _told(_with_received(OrderLine.objects.filter(order__in=list(orders)))):
        found.setdefault(row.line.order_id, []).append(row)
    return found


def _with_received(lines: QuerySet[OrderLine]) -> QuerySet[OrderLine]:
    # In whole thousandths, since SQLite would add decimals as floats. A delivery that was
    # taken back never came.
    whole = Cast(Round(F("received__entry__lines__quantity") * THOUSANDTHS), BigIntegerField())
    came = Q(
        received__entry__lines__account=Line.Account.SHELF,
        received__entry__correction__isnull=True,
    )
    lines = lines.select_related("order", "item", "item__shop")
    return lines.annotate(came=Coalesce(Sum(whole, filter=came), 0)).order_by("pk")


def _told(lines: Iterable[OrderLine]) -> Iterable[Coming]:
    for line in lines:
        came: int = getattr(line, "came", 0)
        yield Coming(line, Decimal(came) / THOUSANDTHS)
