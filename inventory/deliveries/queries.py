"""Deliveries with what came of each, letters that are due, and what came coated."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Prefetch, QuerySet

from inventory.deliveries.expected import Coming, lines_of
from inventory.deliveries.models import Delivery, Order, Received
from inventory.ledger.models import Balance, Line
from inventory.materials.models import Item
from inventory.materials.queries import parts_by_output
from inventory.places.models import Place, Shop

_SHELF_LINES = Line.objects.filter(account=Line.Account.SHELF).select_related("item__shop", "place")


@dataclass(frozen=True, slots=True)
class Came:
    """What came of one item, as a page tells it; the row keeps what was measured."""

    row: Received
    line: Line
    value: Decimal | None
    is_taken_back: bool

    @property
    def item(self) -> Item:
        """What came."""
        return self.line.item

    @property
    def place(self) -> Place | None:
        """Where it was put."""
        return self.line.place

    @property
    def is_coated(self) -> bool:
        """Whether it came galvanised or painted, and nobody found it gone since."""
        coated = self.row.finish in Received.COATED
        return coated and self.row.coating_gone_at is None and not self.is_taken_back


@dataclass(frozen=True, slots=True)
class Coated:
    """A metal of which some came galvanised or painted and may still lie there."""

    item: Item
    came: tuple[Received, ...]

    @property
    def finishes(self) -> str:
        """``galvanised``, ``painted``, or both."""
        return " and ".join(sorted({row.get_finish_display() for row in self.came}))


def deliveries_of(shop: Shop) -> QuerySet[Delivery]:
    """All deliveries, the latest first, with what came: 3 queries; empty for a new shop."""
    rows = Delivery.objects.filter(shop=shop).select_related("shop", "order", "by")
    return rows.prefetch_related(Prefetch("received", _received()))


def delivery_of(shop: Shop, pk: int) -> Delivery | None:
    """One delivery as ``deliveries_of`` gives it; ``None`` in another shop. 3 queries."""
    return deliveries_of(shop).filter(pk=pk).first()


def came_with(delivery: Delivery) -> list[Came]:
    """What came with a delivery of ``deliveries_of``, in the order written. No query."""
    return [_came(row) for row in delivery.received.all()]


def letters_due(shop: Shop) -> QuerySet[Delivery]:
    """Gifts whose donor is still to be thanked, the most pressing first. 3 queries."""
    rows = deliveries_of(shop).filter(letter_due_on__isnull=False, letter_sent_on__isnull=True)
    return rows.order_by("letter_due_on", "pk")


def letters_sent(shop: Shop) -> QuerySet[Delivery]:
    """Gifts whose donor was thanked, the latest letter first. 3 queries."""
    rows = deliveries_of(shop).filter(letter_sent_on__isnull=False)
    return rows.order_by("-letter_sent_on", "-pk")


def letters_overdue(shop: Shop, today: date) -> int:
    """How many letters should have gone before today. 1 query."""
    due = Delivery.objects.filter(shop=shop, letter_sent_on__isnull=True)
    return due.filter(letter_due_on__lt=today).count()


def orders_on_their_way(shop: Shop) -> QuerySet[Order]:
    """Orders that were sent and not ended, the oldest first. 1 query; often empty."""
    return Order.objects.filter(shop=shop, state=Order.State.SENT).order_by("number")


def outstanding_of(order: Order) -> tuple[Coming, ...]:
    """The lines of an order of which something is still to come. 1 query."""
    return tuple(row for row in lines_of(order) if row.left)


def coated_of(shop: Shop, items: Iterable[int] | None = None) -> tuple[Coated, ...]:
    """Metals of which some came galvanised or painted and may be there still. 4 queries.

    Until somebody looks and says that it is gone, or until neither the metal nor anything
    made straight from it lies in the shop: which stick went where, nobody knows. Given
    ``items``, of those alone; 1 query when nothing came coated.
    """
    rows = Received.objects.filter(
        delivery__shop=shop, finish__in=Received.COATED, coating_gone_at__isnull=True,
        entry__correction__isnull=True,
    ).select_related("delivery__shop").prefetch_related(_entry_lines())  # fmt: skip
    by_item: dict[Item, list[Received]] = defaultdict(list)
    wanted = None if items is None else set(items)
    for row in rows:
        item = _shelf_line(row).item
        if wanted is None or item.pk in wanted:
            by_item[item].append(row)
    there = _still_there(shop, by_item) if by_item else set()
    return tuple(Coated(item, tuple(came)) for item, came in by_item.items() if item.pk in there)


def _still_there(shop: Shop, items: Iterable[Item]) -> set[int]:
    """Those of the items of which something lies there, or something made straight from them."""
    made_of: dict[int, set[int]] = defaultdict(set)
    for output, used in parts_by_output(shop).items():
        for item in used:
            made_of[item].add(output)
    lying = set(
        Balance.objects.filter(item__shop=shop, quantity__gt=0)
        .order_by()
        .values_list("item", flat=True)
        .distinct()
    )
    return {item.pk for item in items if ({item.pk} | made_of[item.pk]) & lying}


def _received() -> QuerySet[Received]:
    rows = Received.objects.select_related(
        "entry__goods_in", "entry__correction", "hold_entry", "order_line"
    )
    return rows.prefetch_related(_entry_lines())


def _entry_lines() -> Prefetch[str]:
    return Prefetch("entry__lines", _SHELF_LINES, to_attr="shelf_lines")


def _shelf_line(row: Received) -> Line:
    line: Line = row.entry.shelf_lines[0]  # type: ignore[attr-defined]
    return line


def _came(row: Received) -> Came:
    # Asked of the row that the join brought: a taken-back entry has a correction.
    taken_back = hasattr(row.entry, "correction")
    return Came(row, _shelf_line(row), row.entry.goods_in.value, taken_back)
