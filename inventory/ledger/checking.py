"""Whether the book is right: every rule that posting keeps, asked again of what is written.

The database and the actions keep these rules; a restored copy, a repair by hand or a fault
of ours could have broken them, and then it is said here, with what to do.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import BigIntegerField, Count, Exists, F, OuterRef, Q, Sum
from django.db.models.functions import Cast, Round

from inventory.ledger.models import Balance, Entry, Line
from inventory.ledger.refusals import plain
from inventory.measures.lengths import spell_length
from inventory.places.models import Shop

THOUSANDTHS = Decimal(1000)
# Whole thousandths: SQLite would add decimals as floats.
WHOLE = Sum(Cast(Round(F("quantity") * THOUSANDTHS), BigIntegerField()))

MEND = "The lines are what was posted: check_ledger --mend writes the balance anew from them."
TOO_FEW = "Its lines take more than was there: count the place, then mend."
RESTORE = "The site does not write this: go back to the last backup that passes this check."
TAKE_BACK = "Take all of them but one back, on their pages under Movements."


@dataclass(frozen=True, slots=True)
class Difference:
    """A balance that is not what its lines add up to."""

    balance: Balance
    lines: Decimal

    def __str__(self) -> str:
        what = self.balance
        return f"{what.item} at {what.place}: balance {what.quantity}, lines {self.lines}"


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong in the book, and what to do about it."""

    what: str
    to_do: str

    def __str__(self) -> str:
        return f"{self.what} {self.to_do}"


def faults(shop: Shop) -> Iterator[Fault]:
    """Everything that is wrong in a shop's book; nothing when it is right. 6 queries."""
    for difference in check(shop):
        yield Fault(f"{difference}.", MEND if difference.lines >= 0 else TOO_FEW)
    yield from _unbalanced(shop)
    yield from _of_other_shops(shop)
    yield from _twice(shop)
    yield from _empty(shop)


def check(shop: Shop) -> tuple[Difference, ...]:
    """Balances that are not what their lines add up to; empty when all are right. 2 queries."""
    sums = _sums_of_lines(shop)
    wrong: list[Difference] = []
    # What is left of the sums after every balance took its own has lost its balance.
    for row in Balance.objects.filter(item__shop=shop).select_related("item", "place"):
        lines = sums.pop((row.item_id, row.place_id, row.condition, row.length_um), Decimal())
        if lines != row.quantity:
            wrong.append(Difference(row, lines))
    for (item, place, condition, length_um), lines in sums.items():
        if lines:
            missing = Balance(
                item_id=item, place_id=place, condition=condition, length_um=length_um
            )
            wrong.append(Difference(missing, lines))
    return tuple(wrong)


def _sums_of_lines(shop: Shop) -> dict[tuple[int, int, str, int], Decimal]:
    lines = Line.objects.filter(entry__shop=shop, account=Line.Account.SHELF).order_by()
    rows = lines.values_list("item", "place", "condition", "length_um").annotate(all=WHOLE)
    return {
        (item, place, condition, length): Decimal(total) / THOUSANDTHS
        for item, place, condition, length, total in rows
        if place is not None
    }


def _unbalanced(shop: Shop) -> Iterator[Fault]:
    """Entries whose lines do not come to nothing for an item and length. 1 query."""
    lines = Line.objects.filter(entry__shop=shop).order_by()
    sums = lines.values("entry", "item", "length_um").annotate(all=WHOLE).filter(~Q(all=0))
    for row in sums.values("entry", "item__name", "length_um", "all"):
        length = spell_length(row["length_um"], shop.length_units) if row["length_um"] else ""
        name = f"{row['item__name']}, {length}" if length else row["item__name"]
        out = plain(Decimal(row["all"]) / THOUSANDTHS)
        yield Fault(f"Entry {row['entry']}: the lines of {name} are out by {out}.", RESTORE)


def _of_other_shops(shop: Shop) -> Iterator[Fault]:
    """Lines that name an item or a place of another shop. 1 query."""
    lines = Line.objects.filter(entry__shop=shop)
    strange = lines.filter(~Q(item__shop=shop) | (Q(place__isnull=False) & ~Q(place__shop=shop)))
    for line in strange.select_related("item", "place"):
        where = f" at {line.place}" if line.place else ""
        what = f"Entry {line.entry_id} moves {line.item}{where}, which is not all of this shop."
        yield Fault(what, RESTORE)


def _twice(shop: Shop) -> Iterator[Fault]:
    """Keys that were written more than once. 1 query."""
    keys = Entry.objects.filter(shop=shop).order_by().values("client_key")
    for row in keys.annotate(times=Count("pk")).filter(times__gt=1):
        what = f"The key {row['client_key']} was posted {row['times']} times."
        yield Fault(what, TAKE_BACK)


def _empty(shop: Shop) -> Iterator[Fault]:
    """Entries without a line. 1 query."""
    entries = Entry.objects.filter(shop=shop).exclude(
        Exists(Line.objects.filter(entry=OuterRef("pk")))
    )
    for entry in entries:
        yield Fault(f"Entry {entry.pk} ({entry}) has no lines.", RESTORE)
