"""Holding pieces back in the book: what is on the rack goes on hold, what is gone is named."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import datetime
from decimal import Decimal
from uuid import UUID, uuid5

from django.db.models import Case, IntegerField, QuerySet, Sum, Value, When

from inventory.ledger import actions as ledger
from inventory.ledger.models import Balance, Condition, Entry, Line
from inventory.ledger.queries import balances_of
from inventory.materials.models import Item
from workshops.access.models import User
from workshops.nights.models import Night
from workshops.quality.tracing import Gone, Taking, trace

ON_HOLD = "on hold already"
WENT = {
    Entry.Kind.SCRAP: "scrapped since",
    Entry.Kind.SET_OUT: "set out in the marsh",
    Entry.Kind.COUNTED: "missing at a count",
}


@dataclass(frozen=True, slots=True)
class Who:
    """Who does it, when, for which night, and under which key it is sent."""

    night: Night
    by: User | None
    at: datetime
    key: UUID


def hold_back(item: Item, suspected: int, *, reason: str, who: Who) -> tuple[int, list[Gone]]:
    """Set so many pieces aside, as far as they are there; how many, and where the others are.

    Called with the book locked. What was on hold before stays what it was.
    """
    there = _sum(item, Condition.GOOD)
    held = min(suspected, there)
    on_hold = min(suspected - held, _sum(item, Condition.HOLD))
    gone = trace(takings_of(item), suspected - held - on_hold) if suspected > held else []
    if on_hold:
        gone.insert(0, Gone(ON_HOLD, on_hold))
    for number, (row, part) in enumerate(_from(item, Condition.GOOD, held)):
        ledger.hold(
            shop=item.shop, item=item, quantity=Decimal(part), place=row.place, reason=reason,
            by=who.by, at=who.at, night_key=who.night.date.isoformat(),
            client_key=uuid5(who.key, f"hold {number}"),
        )  # fmt: skip
    return held, gone


def release(item: Item, count: int, *, reason: str, who: Who) -> None:
    """So many that are on hold are good again.

    Raises
    ------
    inventory.ledger.actions.NotEnough
        When fewer are on hold: somebody released them in the book meanwhile.
    """
    for number, (row, part) in enumerate(_from(item, Condition.HOLD, count)):
        ledger.release(
            shop=item.shop, item=item, quantity=Decimal(part), place=row.place, reason=reason,
            by=who.by, at=who.at, night_key=who.night.date.isoformat(),
            client_key=uuid5(who.key, f"release {number}"),
        )  # fmt: skip


def throw_away(item: Item, count: int, condition: str, *, reason: str, who: Who) -> None:
    """So many are scrap, from those on hold or from the good ones.

    Raises
    ------
    inventory.ledger.actions.NotEnough
        When fewer lie there.
    """
    for number, (row, part) in enumerate(_from(item, condition, count)):
        ledger.scrap(
            shop=item.shop, item=item, quantity=Decimal(part), place=row.place, reason=reason,
            by=who.by, at=who.at, condition=condition, night_key=who.night.date.isoformat(),
            client_key=uuid5(who.key, f"scrap {condition} {number}"),
        )  # fmt: skip


def takings_of(item: Item) -> Iterator[Taking]:
    """Every entry that stands and took of the item, the latest first. Reads as far as asked."""
    lines = Line.objects.filter(
        item=item, account=Line.Account.SHELF,
        entry__correction__isnull=True, entry__corrects__isnull=True,
    )  # fmt: skip
    entries = lines.order_by("-entry").values("entry", "entry__kind")
    for row in entries.annotate(net=Sum("quantity")).filter(net__lt=0).iterator(chunk_size=50):
        pieces, kind = int(-row["net"]), Entry.Kind(row["entry__kind"])
        if kind is not Entry.Kind.MADE:
            yield Taking(pieces, WENT.get(kind) or str(kind.label))
            continue
        yield _made_of(row["entry"], pieces)


def _made_of(entry: int, pieces: int) -> Taking:
    """What an entry made, all of it counted, scrap too. 1 query."""
    line = Line.objects.filter(entry=entry, account=Line.Account.MADE).select_related("item")[0]
    return Taking(pieces, f"in {line.item.name}", int(-line.quantity), line.item_id)


def _sum(item: Item, condition: str) -> int:
    rows = balances_of(item).filter(condition=condition).order_by()
    return int(sum((row.quantity for row in rows), Decimal()))


def _from(item: Item, condition: str, count: int) -> Iterator[tuple[Balance, int]]:
    """From which places so many are taken: home first.

    Raises
    ------
    inventory.ledger.actions.NotEnough
        When fewer lie there in that condition.
    """
    left = count
    rows = list(_lying(item, condition))
    there = sum(int(row.quantity) for row in rows)
    if there < count:
        place = item.home or (rows[0].place if rows else None)
        raise ledger.NotEnough(item, place, Decimal(count), Decimal(there))
    for row in rows:
        part = min(left, int(row.quantity))
        if part:
            yield row, part
        left -= part


def _lying(item: Item, condition: str) -> QuerySet[Balance]:
    at_home = Case(
        When(place=item.home_id, then=Value(0)), default=Value(1), output_field=IntegerField()
    )
    return balances_of(item).filter(condition=condition).order_by(at_home, "place__name", "pk")


def as_rows(gone: list[Gone]) -> list[dict[str, object]]:
    """As they are kept."""
    return [asdict(each) for each in gone]
