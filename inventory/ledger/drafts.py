"""An entry before it is written: its heading, its lines, and what no entry may say."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from uuid import UUID

from django.contrib.auth.base_user import AbstractBaseUser
from django.utils import timezone

from inventory.ledger.models import FINEST, TOO_MANY, Condition, Entry, Line
from inventory.ledger.refusals import NothingMoved, PostingRefused, Unbalanced, plain, spelled
from inventory.materials.models import Item
from inventory.places.models import Place, Shop

SHELF = Line.Account.SHELF
# Clocks of tablets differ by a little; more than this is a wrong day in a form.
AHEAD = timedelta(minutes=10)
# A tally is taken as it is told, and so is taking it back: a count must not be lost because
# somebody's clock is wrong.
NEVER_REFUSED = (Entry.Kind.MADE, Entry.Kind.CORRECTION)

Who = AbstractBaseUser | None


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


def shortfall(kind: str, lines: Sequence[NewLine]) -> str:
    """The reason of a making that took more than was booked; empty when all was there."""
    if kind != Entry.Kind.MADE:
        return ""
    short = [line for line in lines if line.account == Line.Account.DIFFERENCE]
    parts = [f"{plain(-line.quantity)} × {spelled(line.item, line.length_um)}" for line in short]
    return f"more used than booked: {', '.join(parts)}"[:200] if parts else ""


def refuse_nonsense(heading: Heading, lines: Sequence[NewLine]) -> None:
    """Let pass what may be written.

    Raises
    ------
    PostingRefused
        ``Unbalanced``, ``NothingMoved``, a time that cannot be or a line that names what it
        cannot.
    """
    if not lines:
        raise NothingMoved("Nothing was moved: give at least one quantity.")
    # A time without a zone would land an hour off in every night that crosses a change.
    if timezone.is_naive(heading.at):
        raise PostingRefused("The time of the entry must say its time zone.")
    if heading.kind not in NEVER_REFUSED and heading.at > timezone.now() + AHEAD:
        when = heading.at.astimezone(heading.shop.zone)
        raise PostingRefused(
            f"{when:%Y-%m-%d %H:%M} is still to come: give the time when it happened."
        )
    for line in lines:
        _refuse_line(heading.shop, line)
    sums: dict[tuple[int, int], Decimal] = defaultdict(Decimal)
    for line in lines:
        # By length as well: two short drops are not one long stick, however the metres add up.
        sums[line.item.pk, line.length_um] += line.quantity
    for line in lines:
        if out := sums[line.item.pk, line.length_um]:
            what = spelled(line.item, line.length_um)
            raise Unbalanced(f"{what}: the lines are out by {out:+}.")


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
    if abs(line.quantity) >= TOO_MANY:
        raise PostingRefused(f"{name}: {line.quantity} is more than the book can count.")


def refuse_nothing(item: Item, quantity: Decimal, reason: str = "-") -> None:
    """Let pass a quantity that is more than nothing, with its reason.

    Raises
    ------
    PostingRefused
        Otherwise.
    """
    if quantity <= 0:
        raise PostingRefused(f"{item}: the quantity must be more than nothing.")
    # The dash stands for actions that explain themselves, such as carrying a thing elsewhere.
    if not reason.strip():
        raise PostingRefused(f"{item}: give a reason.")
