"""What the pages of orders show: lists by how far they are, sums, the forms' first values."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from inventory.deliveries.expected import Coming, lines_of_orders
from inventory.deliveries.models import Order, OrderLine
from inventory.materials.models import Item
from inventory.needs.answer import bought_as
from inventory.needs.queries import latest_needs
from inventory.places.models import Shop
from workshops.stock.forms.orders import ExpectForm, SendForm, WhyForm

BOUGHT = (Item.Kind.METAL, Item.Kind.FILL, Item.Kind.SMALL)
DONE_SHOWN = 30
CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Listed:
    """One order in a list. ``left``: lines of which something is still to come."""

    order: Order
    lines: int
    left: int
    is_late: bool
    total: Decimal
    unpriced: int


def listed(shop: Shop, today: date) -> dict[str, list[Listed]]:
    """The shop's orders by how far they are, newest first. 3 queries for any number."""
    open_states = (Order.State.DRAFT, Order.State.SENT)
    orders = Order.objects.filter(shop=shop)
    rows = [
        *orders.filter(state__in=open_states),
        *orders.exclude(state__in=open_states)[:DONE_SHOWN],
    ]
    lines = lines_of_orders(rows)
    told = [_listed(order, lines.get(order.pk, []), today) for order in rows]
    return {
        "drafts": [row for row in told if row.order.state == Order.State.DRAFT],
        "sent": [row for row in told if row.order.state == Order.State.SENT],
        "done": [row for row in told if row.order.state not in open_states],
    }


def _listed(order: Order, lines: Sequence[Coming], today: date) -> Listed:
    is_sent = order.state == Order.State.SENT
    total, unpriced = total_of([row.line for row in lines])
    return Listed(
        order, len(lines), sum(bool(row.left) for row in lines),
        is_sent and any(row.is_late(today) for row in lines), total, unpriced,
    )  # fmt: skip


def price_of(line: OrderLine) -> Decimal | None:
    """What a line comes to, to the cent; ``None`` without a price."""
    if line.unit_price is None:
        return None
    return (line.unit_price * line.quantity).quantize(CENT)


def total_of(lines: Sequence[OrderLine]) -> tuple[Decimal, int]:
    """What the lines with a price come to, and how many have none."""
    prices = [price_of(line) for line in lines]
    return sum((p for p in prices if p is not None), Decimal()), prices.count(None)


def begun(shop: Shop, supplier: str) -> dict[str, Any]:
    """What a new order says until somebody changes it: wanted by, and where to. 3 queries."""
    needs = latest_needs(shop)
    lines = [row for row in needs.buy if row.item.supplier == supplier] if needs else []
    days = [row.needed_on for row in lines if row.needed_on]
    last = Order.objects.filter(shop=shop).exclude(deliver_to="").first()
    return {
        "wanted_on": min(days, default=None),
        "deliver_to": last.deliver_to if last else shop.name,
    }


def on_page(order: Order, lines: Sequence[Coming], today: date) -> dict[str, Any]:
    """What the page of one order shows besides the order itself."""
    total, unpriced = total_of([row.line for row in lines])
    lead = max((row.item.lead_days for row in lines), default=7)
    expected_on = today + timedelta(days=lead)
    return {
        "rows": [(row, price_of(row.line), bought_as(row.item)) for row in lines],
        "total": total,
        "unpriced": unpriced,
        "is_all_in": bool(lines) and not any(row.left for row in lines),
        "is_late": order.state == Order.State.SENT and any(row.is_late(today) for row in lines),
        "send": SendForm(initial={"on": today, "expected_on": expected_on}),
        "expect": ExpectForm(initial={"expected_on": order.expected_on}),
        "end": WhyForm(),
    }
