"""How one entry is written: lock the book, look for its key, write lines, move balances.

``record`` is the only way into the book; ``actions`` and ``shelves`` say what is written.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from uuid import UUID, uuid4

from django.contrib.auth.base_user import AbstractBaseUser
from django.db import connection, transaction
from django.utils import timezone

from inventory.ledger.models import Balance, Condition, Entry, Line
from inventory.ledger.refusals import (
    NotEnough,
    NothingMoved,
    PostingRefused,
    Unbalanced,
    plain,
    spelled,
)
from inventory.materials.models import Item
from inventory.places.models import Place, Shop

SHELF = Line.Account.SHELF
FINEST = Decimal("0.001")

Who = AbstractBaseUser | None
# item, place, condition, length
Spot = tuple[int, int, str, int]


@dataclass(frozen=True, slots=True)
class NewLine:
    """A line to write: so many into (+) or out of (-) a place or an account."""

    item: Item
    account: str
    quantity: Decimal
    place: Place | None = None
    condition: str = Condition.GOOD
    length_um: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """What an entry says besides its lines."""

    shop: Shop
    kind: str
    by: Who
    at: datetime
    reason: str = ""
    paper: str = ""
    night_key: str = ""
    client_key: UUID | None = None
    corrects: Entry | None = None


def lock_book(shop: Shop) -> None:
    """Let nobody else write in this shop's book until the transaction ends.

    With one writer at a time, balances may be read and then written as exact decimals, and
    two tablets sending one tally find each other's key. SQLite's IMMEDIATE transactions
    lock already, which saves the query there.
    """
    if connection.features.has_select_for_update:
        # "no key" lets other tables go on referring to the shop meanwhile
        Shop.objects.select_for_update(no_key=True).only("pk").get(pk=shop.pk)


def posted(shop: Shop, client_key: UUID | None) -> Entry | None:
    """The entry already written under that key, or ``None``."""
    if client_key is None:
        return None
    return Entry.objects.filter(shop=shop, client_key=client_key).first()


@transaction.atomic
def record(heading: Heading, draw_up: Callable[[], Iterable[NewLine]]) -> Entry:
    """Write one entry, once: a key that was written before gives back its entry.

    ``draw_up`` makes the lines; it is called with the book locked, so the balances that it
    reads are the ones the lines are written against.

    Raises
    ------
    PostingRefused
        ``Unbalanced``, ``NotEnough``, ``NothingMoved`` or a line that names what it cannot.
    """
    lock_book(heading.shop)
    already = posted(heading.shop, heading.client_key)
    return already or _write(heading, merge(draw_up()))


def _write(heading: Heading, merged: Sequence[NewLine]) -> Entry:
    _refuse_nonsense(heading, merged)
    entry = Entry.objects.create(
        shop=heading.shop,
        kind=heading.kind,
        by_id=heading.by.pk if heading.by else None,
        at=heading.at,
        reason=heading.reason or _shortfall(heading.kind, merged),
        paper=heading.paper,
        night_key=heading.night_key,
        client_key=heading.client_key or uuid4(),
        corrects=heading.corrects,
    )
    # The balances come last: when one would fall below nothing, the caller's transaction
    # takes the entry and its lines with it.
    Line.objects.bulk_create(
        Line(
            entry=entry,
            item=line.item,
            account=line.account,
            place=line.place,
            condition=line.condition,
            length_um=line.length_um,
            quantity=line.quantity,
        )
        for line in merged
    )
    _move_balances(merged)
    return entry


def merge(lines: Iterable[NewLine]) -> list[NewLine]:
    """The lines with equal ones added up and those that come to nothing left out."""
    sums: dict[tuple[object, ...], Decimal] = defaultdict(Decimal)
    first: dict[tuple[object, ...], NewLine] = {}
    for line in lines:
        place = line.place.pk if line.place else None
        key = (line.item.pk, line.account, place, line.condition, line.length_um)
        # Rows are compared by number, and a place may be another object of the same row.
        first.setdefault(key, line)
        sums[key] += line.quantity
    return [
        NewLine(line.item, line.account, sums[key], line.place, line.condition, line.length_um)
        for key, line in first.items()
        if sums[key]
    ]


def _shortfall(kind: str, lines: Sequence[NewLine]) -> str:
    """The reason of a making that took more than was booked; empty when all was there."""
    if kind != Entry.Kind.MADE:
        return ""
    short = [line for line in lines if line.account == Line.Account.DIFFERENCE]
    parts = [f"{plain(-line.quantity)} × {spelled(line.item, line.length_um)}" for line in short]
    return f"more used than booked: {', '.join(parts)}"[:200] if parts else ""


def _refuse_nonsense(heading: Heading, lines: Sequence[NewLine]) -> None:
    if not lines:
        raise NothingMoved("Nothing was moved: give at least one quantity.")
    # A time without a zone would land an hour off in every night that crosses a change.
    if timezone.is_naive(heading.at):
        raise PostingRefused("The time of the entry must say its time zone.")
    for line in lines:
        _refuse_line(heading.shop, line)
    sums: dict[tuple[Item, int], Decimal] = defaultdict(Decimal)
    for line in lines:
        # By length as well: two short drops are not one long stick, however the metres add up.
        sums[line.item, line.length_um] += line.quantity
    for (item, length_um), total in sums.items():
        if total:
            raise Unbalanced(f"{spelled(item, length_um)}: the lines are out by {total:+}.")


def _refuse_line(shop: Shop, line: NewLine) -> None:
    name = line.item.name
    if line.item.shop_id != shop.pk or (line.place and line.place.shop_id != shop.pk):
        raise PostingRefused(f"{name}: the item or its place belongs to another shop.")
    if (line.account == SHELF) != (line.place is not None):
        raise PostingRefused(f"{name}: a shelf line names its place, any other line none.")
    if line.item.is_by_length != bool(line.length_um):
        needed = "needs a length" if line.item.is_by_length else "is not held by length"
        raise PostingRefused(f"{name} {needed}.")
    # Half a stick is a shorter stick.
    finest = Decimal(1) if line.item.is_by_length else FINEST
    if line.quantity % finest:
        raise PostingRefused(f"{name}: {line.quantity} is finer than it is counted.")


def _move_balances(lines: Sequence[NewLine]) -> None:
    """Add the shelf lines to the balances, refusing any that would fall below nothing."""
    # Lines were merged, so every spot comes once.
    moved = {_spot(line): line for line in lines if line.account == SHELF}
    rows = _balances(moved)
    missing = [spot for spot in moved if spot not in rows]
    if missing:
        # Nobody else makes the same row meanwhile: the book is locked.
        Balance.objects.bulk_create(
            Balance(item_id=item, place_id=place, condition=condition, length_um=length)
            for item, place, condition, length in missing
        )
        rows = _balances(moved)
    for spot, line in moved.items():
        there = rows[spot].quantity
        if there + line.quantity < 0:
            raise NotEnough(line.item, line.place, -line.quantity, there, length_um=line.length_um)
        # Summed here and not in SQL: SQLite adds decimals as floats, and 0.3 - 0.1 - 0.2
        # would fall below nothing.
        rows[spot].quantity = there + line.quantity
    Balance.objects.bulk_update([rows[spot] for spot in moved], ["quantity"])


def _balances(spots: Collection[Spot]) -> dict[Spot, Balance]:
    """The balances of the spots, and of others of the same items in the same places.

    Two short lists instead of one condition a spot: it halves what a posting costs.
    """
    if not spots:
        return {}
    rows = Balance.objects.filter(
        item__in={spot[0] for spot in spots}, place__in={spot[1] for spot in spots}
    )
    return {(row.item_id, row.place_id, row.condition, row.length_um): row for row in rows}


def _spot(line: NewLine) -> Spot:
    assert line.place is not None  # a shelf line, refused otherwise
    return (line.item.pk, line.place.pk, str(line.condition), line.length_um)
