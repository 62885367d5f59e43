"""What one of a thing costs on a day: the moving average of what was bought, gifts apart.

Metal is valued by its length and not by the piece: a drop which goes back to the rack takes its
share of the stick's price with it, and a stick cut ahead and its pieces used later count once.
Days are the finest step: what came on a day was there for that day's work.

A gift set aside at the door waits apart until somebody releases it: it may be sent back, and
until then no set is made of it. What was paid for counts from the day it came, held or not: the
bill is the same.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from enum import IntEnum
from typing import Any

from django.db.models import BigIntegerField, F, Q, QuerySet, Sum
from django.db.models.functions import Cast, Round, TruncDate

from inventory.ledger.costs import Cost
from inventory.ledger.models import Condition, Entry, Line
from inventory.materials.models import Item
from inventory.places.models import Shop

THOUSAND = Decimal(1000)
MILLION = Decimal(1_000_000)
TAKEN = (Line.Account.USED, Line.Account.SCRAP, Line.Account.OUTSIDE)
OFF_HOLD = (Entry.Kind.RELEASE, Entry.Kind.SCRAP, Entry.Kind.RETURNED)


@dataclass(frozen=True, slots=True)
class Price:
    """What one costs: one piece, one unit, or one metre of a metal.

    ``bought`` and ``given`` are averages, ``given_share`` the part of what is there (or was
    there last) that was given. ``is_listed``: nothing was ever bought or given at a value, so
    the price on the item's own page is taken. Both ``None``: nobody wrote a price.
    ``waiting``: gifts set aside at the door, which no average counts yet.
    """

    bought: Decimal | None = None
    given: Decimal | None = None
    given_share: Decimal = Decimal()
    is_listed: bool = False
    waiting: Cost = field(default_factory=Cost)

    @property
    def is_known(self) -> bool:
        """Whether there is any price at all."""
        return self.bought is not None or self.given is not None


class _Step(IntEnum):
    """In what order the events of one day count: what came stands before what went."""

    CAME, RELEASED, GONE_FROM_HOLD, TAKEN = range(4)


@dataclass(slots=True)
class _Pool:
    """What is there of one item, bought and given, and the averages that were seen last."""

    bought: Cost = field(default_factory=Cost)
    given: Cost = field(default_factory=Cost)
    waiting: Cost = field(default_factory=Cost)
    seen: Price = field(default_factory=Price)

    def come(self, came: _Came) -> None:
        if came.value is None:
            return
        if came.waits:
            self.waiting = self.waiting.bought(came.quantity, came.value)
            return
        if came.is_donated:
            self.given = self.given.bought(came.quantity, came.value)
        else:
            self.bought = self.bought.bought(came.quantity, came.value)
        self._look()

    def release(self, quantity: Decimal) -> None:
        """Gifts that waited count from now on; what else was on hold counted all the time."""
        freed, self.waiting = _split(self.waiting, quantity)
        if freed.quantity:
            self.given = self.given.bought(freed.quantity, freed.value)
            self._look()

    def lose_from_hold(self, quantity: Decimal) -> Decimal:
        """Gifts that waited and were sent back or thrown away; how much that was."""
        lost, self.waiting = _split(self.waiting, quantity)
        return lost.quantity

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


def _split(cost: Cost, quantity: Decimal) -> tuple[Cost, Cost]:
    """So many of it at its average, and the rest."""
    rest = cost.taken(quantity)
    return Cost(cost.quantity - rest.quantity, cost.value - rest.value), rest


def prices_of(shop: Shop, items: Sequence[Item], until: date) -> dict[int, Price]:
    """The price of each item at the end of a day, for any number and any length of book.

    2 queries, and 1 more where a gift was set aside at the door. Goods without a value are
    left out. An average is kept when the last piece is used, until the next purchase makes a
    new one.
    """
    came = list(_came(shop, items, until))
    waited = {each.item for each in came if each.waits}
    off_hold = _off_hold(shop, waited, until) if waited else []
    events: list[_Event] = [*came, *off_hold, *_went(shop, items, until)]
    pools: defaultdict[int, _Pool] = defaultdict(_Pool)
    # Gifts that waited and went are told twice, as taken and as gone from hold: taken once.
    gone: defaultdict[tuple[date, int], Decimal] = defaultdict(Decimal)
    for event in sorted(events, key=lambda each: (each.day, each.step, each.item)):
        pool, key = pools[event.item], (event.day, event.item)
        if isinstance(event, _Came):
            pool.come(event)
        elif event.step == _Step.RELEASED:
            pool.release(event.quantity)
        elif event.step == _Step.GONE_FROM_HOLD:
            gone[key] += pool.lose_from_hold(event.quantity)
        else:
            pool.take(event.quantity - gone[key])
    return {item.pk: _price(item, pools.get(item.pk)) for item in items}


def _price(item: Item, pool: _Pool | None) -> Price:
    waiting = Cost() if pool is None else pool.waiting
    if pool is not None and pool.seen.is_known:
        return replace(pool.seen, waiting=waiting)
    if item.unit_price is None:
        return Price(waiting=waiting)
    return Price(bought=item.unit_price / _in_one(item), is_listed=True, waiting=waiting)


def _in_one(item: Item) -> Decimal:
    """What one bought stick or unit holds: metres for metal."""
    return Decimal(item.bought_length_um) / MILLION if item.bought_length_um else Decimal(1)


@dataclass(frozen=True, slots=True)
class _Event:
    """So many pieces, units or metres of an item on a day."""

    day: date
    step: _Step
    item: int
    quantity: Decimal


@dataclass(frozen=True, slots=True)
class _Came(_Event):
    """Goods in; ``waits`` when it is a gift that was set aside at the door."""

    value: Decimal | None
    is_donated: bool
    waits: bool


def lines_until(shop: Shop, items: Iterable[Item | int], until: date) -> QuerySet[Any]:
    """Lines of what happened by the end of a day, by the shop's clock; each with its ``day``."""
    # An entry that was taken back never happened; nor did its mirror image.
    lines = Line.objects.filter(
        item__in=list(items), entry__correction__isnull=True, entry__corrects__isnull=True
    )
    lines = lines.annotate(day=TruncDate("entry__at", tzinfo=shop.zone))
    return lines.filter(day__lte=until).order_by()


def _came(shop: Shop, items: Iterable[Item], until: date) -> Iterable[_Came]:
    lines = lines_until(shop, items, until).filter(
        entry__kind=Entry.Kind.GOODS_IN, account=Line.Account.OUTSIDE
    )
    held = "entry__received__hold_entry"
    rows = lines.values_list(
        "day", "item", "quantity", "length_um", "entry__goods_in__value",
        "entry__goods_in__is_donated", held, f"{held}__correction",
    )  # fmt: skip
    for day, item, quantity, length_um, value, is_donated, hold, not_held in rows:
        # The outside account gave what the shelf received.
        came = -quantity * (Decimal(length_um) / MILLION if length_um else 1)
        waits = bool(is_donated and hold and not not_held)
        yield _Came(day, _Step.CAME, item, came, value, bool(is_donated), waits)


def _went(shop: Shop, items: Iterable[Item], until: date) -> Iterable[_Event]:
    lines = lines_until(shop, items, until).filter(account__in=TAKEN)
    for day, item, quantity in _summed(lines.exclude(entry__kind=Entry.Kind.GOODS_IN)):
        yield _Event(day, _Step.TAKEN, item, quantity)


def _off_hold(shop: Shop, items: Iterable[int], until: date) -> Iterable[_Event]:
    """What was declared good, and what was sent back or thrown away instead. 1 query."""
    lines = lines_until(shop, items, until).filter(
        account=Line.Account.SHELF,
        condition=Condition.HOLD,
        entry__kind__in=OFF_HOLD,
        quantity__lt=0,
    )
    for day, kind, item, quantity in _summed(lines, "entry__kind"):
        freed = kind == Entry.Kind.RELEASE
        yield _Event(day, _Step.RELEASED if freed else _Step.GONE_FROM_HOLD, item, -quantity)


def _summed(lines: QuerySet[Any], *by: str) -> Iterable[tuple[Any, ...]]:
    """Pieces, units or metres by day, by what is named, and by item. 1 query."""
    # Whole thousandths and micrometres: SQLite would add decimals as floats.
    whole = Cast(Round(F("quantity") * THOUSAND), BigIntegerField())
    pieces = Sum(whole, filter=Q(length_um=0), default=0)
    metal = Sum(whole * F("length_um"), filter=Q(length_um__gt=0), default=0)
    rows = lines.values_list("day", *by, "item").annotate(pieces=pieces, metal=metal)
    for *named, counted, length in rows:
        yield (*named, Decimal(counted) / THOUSAND + Decimal(length) / MILLION / THOUSAND)
