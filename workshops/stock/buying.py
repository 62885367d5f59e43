"""The buy list as an order is written: supplier by supplier, whole packs, the most urgent first."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, Decimal

from inventory.deliveries.expected import Coming
from inventory.deliveries.models import Order
from inventory.deliveries.ordering import Asked
from inventory.needs.answer import Needs, ToBuy
from inventory.places.models import Shop


@dataclass(frozen=True, slots=True)
class SupplierList:
    """What to buy from one supplier. ``draft`` is the order being written to it already."""

    supplier: str
    lines: tuple[ToBuy, ...]
    draft: Order | None = None

    @property
    def order_by(self) -> date | None:
        """The earliest day by which something of it must be ordered."""
        return min((line.order_by for line in self.lines if line.order_by), default=None)

    @property
    def is_late(self) -> bool:
        """Whether a day has passed already."""
        return any(line.is_late for line in self.lines)

    @property
    def price(self) -> Decimal:
        """What the lines with a price come to."""
        return sum((line.price for line in self.lines if line.price is not None), Decimal())

    @property
    def unpriced(self) -> int:
        """How many lines have no price, so that the sum is at least."""
        return sum(line.price is None for line in self.lines)


def by_supplier(needs: Needs) -> tuple[SupplierList, ...]:
    """The buy list by supplier, the most urgent supplier first. 1 query; empty when all is there.

    Things that nobody is known to sell stand last, under no name.
    """
    found: defaultdict[str, list[ToBuy]] = defaultdict(list)
    for line in needs.buy:
        found[line.item.supplier].append(line)
    drafts = {
        order.supplier: order
        for order in Order.objects.filter(shop=needs.run.shop_id, state=Order.State.DRAFT)
    }
    lists = (SupplierList(name, tuple(rows), drafts.get(name)) for name, rows in found.items())
    return tuple(
        sorted(
            lists, key=lambda each: (not each.supplier, each.order_by or date.max, each.supplier)
        )
    )


def to_ask(lines: Iterable[ToBuy], since: Mapping[int, Decimal]) -> list[Asked]:
    """The lines of an order: whole packs, less what was ordered ``since`` they were worked out."""
    found = []
    for line in lines:
        item = line.item
        left = line.short - since.get(item.pk, Decimal())
        # Not by "//", which rounds a decimal towards nothing.
        packs = (left / item.pack_size).to_integral_value(ROUND_CEILING)
        # What cannot be had any more this year is no use on an order.
        if packs > 0 and not line.is_gone:
            found.append(Asked(item, packs * item.pack_size, unit_price=item.unit_price))
    return found


def ordered_since(needs: Needs, coming: Iterable[Coming]) -> dict[int, Decimal]:
    """Item -> what is on order now beyond what was counted when the needs were worked out."""
    now: defaultdict[int, Decimal] = defaultdict(Decimal)
    for row in coming:
        now[row.item.pk] += row.left
    # What the needs never looked at changes nothing in them.
    return {
        item: max(Decimal(), n - needs.on_order[item])
        for item, n in now.items()
        if item in needs.on_order
    }


def suppliers_of(shop: Shop) -> list[str]:
    """Suppliers as they stand on orders, by name. 1 query."""
    names = Order.objects.filter(shop=shop).order_by("supplier")
    return list(names.values_list("supplier", flat=True).distinct())
