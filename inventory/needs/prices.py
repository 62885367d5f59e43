"""What one of a thing costs on a day: the moving average of what was bought, gifts apart.

Metal is valued by its length, so that a drop which goes back to the rack takes its share of the
stick's price with it. Days are the finest step: what came on a day was there for that day's work.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

from django.db.models import BigIntegerField, F, Q, QuerySet, Sum
from django.db.models.functions import Cast, Round, TruncDate

from inventory.ledger.costs import Cost
from inventory.ledger.models import Entry, Line
from inventory.materials.models import Item
from inventory.places.models import Shop

THOUSAND = Decimal(1000)
MILLION = Decimal(1_000_000)
TAKEN = (Line.Account.USED, Line.Account.SCRAP, Line.Account.OUTSIDE)


@dataclass(frozen=True, slots=True)
class Price:
    """What one costs: one piece, one unit, or one metre of a metal.

    ``bought`` and ``given`` are averages, ``given_share`` the part of what is there (or was
    there last) that was given. ``is_listed``: nothing was ever bought or given at a value, so
    the price on the item's own page is taken. Both ``None``: nobody wrote a price.
    """

    bought: Decimal | None = None
    given: Decimal | None = None
    given_share: Decimal = Decimal()
    is_listed: bool = False

    @property
    def is_known(self) -> bool:
        """Whether there is any price at all."""
        return self.bought is not None or self.given is not None


@dataclass(slots=True)
class _Pool:
    """What is there of one item, bought and given, and the averages that were seen last."""

    bought: Cost = field(default_factory=Cost)
    given: Cost = field(default_factory=Cost)
    seen: Price = field(default_factory=Price)

    def come(self, quantity: Decimal, value: Decimal, *, is_donated: bool) -> None:
        if is_donated:
            self.given = self.given.bought(quantity, value)
        else:
            self.bought = self.bought.bought(quantity, value)
        self._look()

    def take(self, quantity: Decimal) -> None:
        whole = self.bought.quantity + self.given.quantity
        if whole and quantity > 0:
            # Nobody marks which box was the gift, so both are used alike.
            share = min(quantity, whole) / whole
            self.bought = self.bought.taken(self.bought.quantity * share)
            self.given = self.given.taken(self.given.quantity * share)

    def _look(self) -> None:
        whole = self.bought.quantity + self.given.quantity
        self.seen = Price(
            bought=self.bought.average if self.bought.quantity else self.seen.bought,
            given=self.given.average if self.given.quantity else self.seen.given,
            given_share=self.given.quantity / whole,
        )


def prices_of(shop: Shop, items: Sequence[Item], until: date) -> dict[int, Price]:
    """The price of each item at the end of a day. 2 queries for any number and any length of book.

    Goods without a value are left out. An average is kept when the last piece is used, until
    the next purchase makes a new one.
    """
    pools: defaultdict[int, _Pool] = defaultdict(_Pool)
    events = [*_came(shop, items, until), *_went(shop, items, until)]
    # Of one day, what came stands before what went.
    for _, is_taken, item, quantity, value, is_donated in sorted(events, key=lambda row: row[:3]):
        if is_taken:
            pools[item].take(quantity)
        elif value is not None:
            pools[item].come(quantity, value, is_donated=is_donated)
    return {item.pk: _price(item, pools.get(item.pk)) for item in items}


def _price(item: Item, pool: _Pool | None) -> Price:
    if pool is not None and pool.seen.is_known:
        return pool.seen
    if item.unit_price is None:
        return Price()
    return Price(bought=item.unit_price / _in_one(item), is_listed=True)


def _in_one(item: Item) -> Decimal:
    """What one bought stick or unit holds: metres for metal."""
    return Decimal(item.bought_length_um) / MILLION if item.bought_length_um else Decimal(1)


# day, is taken, item, quantity, value, is donated
_Event = tuple[date, bool, int, Decimal, Decimal | None, bool]


def _lines(shop: Shop, items: Iterable[Item], until: date) -> QuerySet[Any]:
    # An entry that was taken back never happened; nor did its mirror image.
    lines = Line.objects.filter(
        item__in=list(items), entry__correction__isnull=True, entry__corrects__isnull=True
    )
    lines = lines.annotate(day=TruncDate("entry__at", tzinfo=shop.zone))
    return lines.filter(day__lte=until).order_by()


def _came(shop: Shop, items: Iterable[Item], until: date) -> Iterable[_Event]:
    lines = _lines(shop, items, until).filter(
        entry__kind=Entry.Kind.GOODS_IN, account=Line.Account.OUTSIDE
    )
    rows = lines.values_list(
        "day", "item", "quantity", "length_um", "entry__goods_in__value",
        "entry__goods_in__is_donated",
    )  # fmt: skip
    for day, item, quantity, length_um, value, is_donated in rows:
        # The outside account gave what the shelf received.
        came = -quantity * (Decimal(length_um) / MILLION if length_um else 1)
        yield day, False, item, came, value, bool(is_donated)


def _went(shop: Shop, items: Iterable[Item], until: date) -> Iterable[_Event]:
    lines = _lines(shop, items, until).filter(account__in=TAKEN)
    lines = lines.exclude(entry__kind=Entry.Kind.GOODS_IN)
    # Whole thousandths and micrometres: SQLite would add decimals as floats.
    whole = Cast(Round(F("quantity") * THOUSAND), BigIntegerField())
    pieces = Sum(whole, filter=Q(length_um=0), default=0)
    metal = Sum(whole * F("length_um"), filter=Q(length_um__gt=0), default=0)
    rows = lines.values_list("day", "item").annotate(pieces=pieces, metal=metal)
    for day, item, counted, length in rows:
        yield (
            day,
            True,
            item,
            Decimal(counted) / THOUSAND + Decimal(length) / MILLION / THOUSAND,
            None,
            False,
        )
