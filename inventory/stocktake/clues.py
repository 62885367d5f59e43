"""Where a difference may come from, and how big it is beside what moved there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import ROUND_HALF_UP, Decimal

from django.db.models import QuerySet

from inventory.ledger.models import Entry, Line
from inventory.materials.models import Item
from inventory.places.models import Place
from inventory.stocktake.comparing import Compared
from inventory.stocktake.models import CountLine

A_YEAR = timedelta(days=365)
CENT = Decimal("0.01")
SHOWN = 200  # movements beside a difference

# item, condition, length: the things of one place
Thing = tuple[int, str, int]


@dataclass(frozen=True, slots=True)
class Size:
    """How much moved there since the last count, and what the difference is worth."""

    off: Decimal
    moved: Decimal
    worth: Decimal | None

    @property
    def percent(self) -> Decimal | None:
        """The difference as a share of what moved; ``None`` when nothing did."""
        if not self.moved:
            return None
        return (abs(self.off) * 100 / self.moved).quantize(Decimal("0.1"), ROUND_HALF_UP)


@dataclass(frozen=True, slots=True)
class Clue:
    """A movement, and whether it alone would explain the difference."""

    line: Line
    says: str


@dataclass(frozen=True, slots=True)
class Clues:
    """Everything that moved since the last count, what fits, and what is off the other way."""

    since: datetime | None
    moved: tuple[Clue, ...]
    sums: tuple[tuple[str, Decimal], ...]
    other_way: tuple[Compared, ...]

    @property
    def fitting(self) -> list[Clue]:
        """Movements that would explain the whole difference."""
        return [clue for clue in self.moved if clue.says]


def sizes_of(rows: Iterable[Compared], place: Place) -> dict[int, Size]:
    """Count line -> how big its difference is, for the lines that are off. 1 query, or none."""
    off = {row.line.pk: row for row in rows if row.off}
    if not off:
        return {}
    moved = _moved(place, [row.line for row in off.values()])
    return {pk: _size(row, moved[_thing(row.line)]) for pk, row in off.items()}


def clues_of(row: Compared, place: Place, beside: Sequence[Compared]) -> Clues:
    """What moved of a line's thing up to its count, newest first. 2 queries.

    ``beside`` are the other lines of the stocktake: what is off the other way by as much
    may be the same things, carried elsewhere or taken for another part.
    """
    stands = row.stands or (row.seen[-1] if row.seen else None)
    if stands is None:
        return Clues(None, (), (), ())
    lines = _lines_of(place, [row.line]).filter(entry__at__lte=stands.at)
    lines = lines.filter(condition=row.line.condition, length_um=row.line.length_um)
    # The line's own entry is the answer, not a clue.
    lines = lines.exclude(entry=row.line.entry_id) if row.line.entry_id else lines
    counted = lines.filter(entry__kind=Entry.Kind.COUNTED).order_by("-entry__at")
    since = counted.values_list("entry__at", flat=True).first()
    moved = lines.filter(entry__at__gt=since) if since else lines
    moved = moved.select_related("entry", "entry__by", "item", "place")
    clues = tuple(
        Clue(line, _fits(line.quantity, stands.off))
        for line in moved.order_by("-entry__at", "-pk")[:SHOWN]
    )
    other = tuple(
        each for each in beside
        if each.line.pk != row.line.pk and stands.off and each.off == -stands.off
    )  # fmt: skip
    return Clues(since, clues, _sums(clues), other)


def worth_of(item: Item, quantity: Decimal, length_um: int = 0) -> Decimal | None:
    """What so many cost at the item's price, by length for metal; ``None`` without a price."""
    if item.unit_price is None:
        return None
    value = item.unit_price * quantity
    if item.is_by_length:
        if not item.bought_length_um:
            return None
        value = value * length_um / item.bought_length_um
    return value.quantize(CENT, ROUND_HALF_UP)


def _fits(quantity: Decimal, off: Decimal) -> str:
    """What it would mean if this movement were the whole difference; empty when it is not."""
    if not off or abs(quantity) != abs(off):
        return ""
    # Fewer counted than booked, and just so many written in: they may never have come.
    if quantity == -off:
        return "as much, the other way: was it real?"
    return "as much: did it happen twice and was written once?"


def _size(row: Compared, moved: Decimal) -> Size:
    line = row.line
    return Size(row.off, moved, worth_of(line.item, abs(row.off), line.length_um))


def _moved(place: Place, lines: Sequence[CountLine]) -> dict[Thing, Decimal]:
    """What went in and out since the last count, a year at most, by thing. 1 query."""
    own = [line.entry_id for line in lines if line.entry_id]
    moments = [at for line in lines for at in (line.agreed_at, line.third_at, line.second_at) if at]
    until = max(moments)
    rows = (
        _lines_of(place, lines)
        .filter(entry__at__gt=until - A_YEAR, entry__at__lte=until)
        .exclude(entry__in=own)
        .order_by("entry__at", "pk")
        .values_list("item", "condition", "length_um", "entry__kind", "quantity")
    )
    moved: dict[Thing, Decimal] = defaultdict(Decimal)
    for item, condition, length, kind, quantity in rows:
        if kind == Entry.Kind.COUNTED:
            moved[item, condition, length] = Decimal()
        else:
            moved[item, condition, length] += abs(quantity)
    return moved


def _lines_of(place: Place, lines: Sequence[CountLine]) -> QuerySet[Line]:
    items = {line.item_id for line in lines}
    return Line.objects.filter(account=Line.Account.SHELF, place=place, item__in=items)


def _thing(line: CountLine) -> Thing:
    return (line.item_id, line.condition, line.length_um)


def _sums(clues: Sequence[Clue]) -> tuple[tuple[str, Decimal], ...]:
    """What each kind of entry came to."""
    sums: dict[str, Decimal] = defaultdict(Decimal)
    for clue in clues:
        sums[clue.line.entry.get_kind_display()] += clue.line.quantity
    return tuple(sums.items())
