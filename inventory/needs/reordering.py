"""When to order what is always kept: so many left that the lead time does not empty the shelf.

A suggestion: demand a day times the supplier's days, and the reserve the club keeps on top.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import ROUND_CEILING, Decimal

from django.db.models import BigIntegerField, F, Sum
from django.db.models.functions import Cast, Round

from inventory.ledger.models import Line
from inventory.ledger.queries import on_hand
from inventory.materials.models import Item
from inventory.needs.answer import Needs
from inventory.needs.engine.reorder import reorder_point
from inventory.places.models import Shop

THOUSANDTHS = 1000
LOOK_BACK = timedelta(days=84)  # twelve weeks of nights
GONE = (Line.Account.USED, Line.Account.SCRAP, Line.Account.DIFFERENCE)


@dataclass(frozen=True, slots=True)
class OrderWhen:
    """Order when ``order_at`` are left. ``is_planned``: the plan says the demand, not the book."""

    item: Item
    good: Decimal
    used: Decimal
    days: int
    order_at: int
    is_planned: bool

    @property
    def reserve(self) -> int:
        """What the club always keeps."""
        return self.item.keep_at_least

    @property
    def is_due(self) -> bool:
        """Whether so few are left now."""
        return self.good <= self.order_at


def order_when(shop: Shop, needs: Needs | None, now: datetime) -> tuple[OrderWhen, ...]:
    """A reorder point for everything of which some is always kept. 3 queries; may be empty.

    Demand is what the planned nights take of it, where a parts list takes any; else what left
    the shelves in the last twelve weeks (used, scrapped, found missing).
    """
    items = list(Item.objects.filter(shop=shop, keep_at_least__gt=0).select_related("shop"))
    if not items:
        return ()
    planned, days = _planned(needs, now.astimezone(shop.zone).date())
    gone = _gone(items, now)
    rows = {row.item.pk: row for row in on_hand(shop, items)}
    return tuple(
        _told(item, rows[item.pk].good, planned, days, gone.get(item.pk, Decimal()))
        for item in items
        if not item.is_by_length
    )


def _told(
    item: Item, good: Decimal, planned: Mapping[int, Decimal], days: int, gone: Decimal
) -> OrderWhen:
    is_planned = item.pk in planned and days > 0
    used = planned[item.pk] if is_planned else gone
    span = days if is_planned else LOOK_BACK.days
    whole = int(max(used, Decimal()).to_integral_value(ROUND_CEILING))
    point = reorder_point(whole, span, item.lead_days, safety=item.keep_at_least)
    return OrderWhen(item, good, used, span, point, is_planned)


def _planned(needs: Needs | None, today: date) -> tuple[dict[int, Decimal], int]:
    """Item -> what all that is wanted takes of it, and the days until the last planned night."""
    nights = needs.run.problem["nights"] if needs else []
    if needs is None or not nights:
        return {}, 0
    days = (date.fromisoformat(nights[-1]["date"]) - today).days
    return {line.item.pk: line.gross for line in needs.exploded if not line.length_um}, days


def _gone(items: list[Item], now: datetime) -> dict[int, Decimal]:
    """What left the shelves for good in the last weeks. 1 query."""
    lines = Line.objects.filter(
        item__in=items, account__in=GONE, entry__at__gt=now - LOOK_BACK,
        entry__correction__isnull=True, entry__corrects__isnull=True,
    )  # fmt: skip
    whole = Cast(Round(F("quantity") * THOUSANDTHS), BigIntegerField())
    rows = lines.order_by().values_list("item").annotate(gone=Sum(whole))
    return {item: Decimal(gone) / THOUSANDTHS for item, gone in rows}
