"""The list of what lies where: counted and compared with the book, or the opening stock."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from inventory.ledger import actions as ledger
from inventory.ledger.actions import Counted
from inventory.ledger.models import Condition
from inventory.ledger.refusals import plain, spelled
from inventory.materials.models import Item
from inventory.places.models import Place, Shop
from workshops.access.models import User
from workshops.common.columns import Column, Reading, TypedRow, amount, choice, length, words
from workshops.stock.exchange.fates import Change, Fate, Plan, RowFate, refused
from workshops.stock.exchange.known import Known, Spot, checked_length, checked_quantity, word

OPENING = "opening"
CONDITIONS: dict[str, tuple[str, ...]] = {
    Condition.GOOD: ("good",),
    Condition.HOLD: ("on hold", "held"),
}


def columns(shop: Shop) -> list[Column]:
    """The columns of the list."""
    return [
        Column("place", "Place", words(80), ("where", "location", "rack", "bin"),
               is_required=True, help="where it lies", example="Tube rack"),
        Column("item", "Item", words(120), ("name", "what"), help="its name; or give its key",
               example="Square tube 2 in"),
        Column("key", "Key", words(60), ("item key",),
               help="the last word of its page's address; tells two of one name apart"),
        Column("length", "Length", length(shop.length_units), ("long", "each so long"),
               help="of each piece, for what is cut from by length", example="20 ft"),
        Column("condition", "Condition", choice(CONDITIONS), ("state",),
               help="good or on hold; good when empty", example="good"),
        Column("quantity", "On hand", amount, ("quantity", "counted", "count", "how many", "qty"),
               is_required=True, help="how many lie there; 0 says there are none", example="12"),
    ]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Found:
    """One row of the list, understood."""

    item: Item
    place: Place
    condition: str
    length_um: int
    quantity: Decimal

    @property
    def spot(self) -> Spot:
        """Where the book keeps it."""
        return self.item.pk, word(self.place.name), self.condition, self.length_um


def plan(shop: Shop, reading: Reading, choices: Mapping[str, Any]) -> Plan:
    """The fate of each row against the book as it is. 3 queries."""
    known = Known(shop, may_add_places=bool(choices.get("places")))
    there, is_opening = known.quantities(), choices.get("as") == OPENING
    seen: dict[Spot, int] = {}
    wanted: list[tuple[Found, Decimal]] = []
    fates: list[RowFate] = []
    for row in reading.rows:
        found = _understood(row, known)
        if isinstance(found, RowFate):
            fates.append(found)
            continue
        first = seen.setdefault(found.spot, row.number)
        if first != row.number:
            fates.append(refused(row.number, _what(found), f"Row {first} counts this already."))
            continue
        booked = there.get(found.spot, Decimal())
        fate = _opening(row.number, found, booked) if is_opening else _compared(row, found, booked)
        fates.append(fate)
        if fate.fate in (Fate.NEW, Fate.CHANGED):
            wanted.append((found, found.quantity - booked))

    def write(by: User, at: datetime) -> None:
        note = str(choices.get("file", ""))[:80]
        (_bring_in if is_opening else _count)(known, wanted, by, at, note)

    added = tuple(place.name for place in known.added.values())
    return Plan(fates, write, added, tuple(known.lacking.values()))


def _understood(row: TypedRow, known: Known) -> Found | RowFate:
    """The row as it is meant, or its refusal."""
    text, given = row.texts, row.values
    what = text.get("item") or text.get("key") or "?"
    faults = list(row.faults)
    try:
        item = known.item(given.get("key"), given.get("item"))
        what = str(item)
        length_um = checked_length(item, given.get("length")) if not faults else 0
        quantity = checked_quantity(item, given.get("quantity") or Decimal())
    except ValueError as wrong:
        faults.append(str(wrong))
    try:
        place = known.place(given["place"]) if given.get("place") else None
    except ValueError as wrong:
        faults.append(str(wrong))
    if faults or place is None:
        return refused(row.number, what, *faults)
    return Found(item, place, given.get("condition") or Condition.GOOD, length_um, quantity)


def _compared(row: TypedRow, found: Found, booked: Decimal) -> RowFate:
    what, more = _what(found), found.quantity - booked
    change = (Change("on hand", plain(booked), plain(found.quantity)),)
    if not more:
        return RowFate(row.number, Fate.SAME, what, f"{plain(booked)}, as the book says.")
    says = f"{plain(abs(more))} {'more' if more > 0 else 'fewer'} than the book."
    return RowFate(row.number, Fate.CHANGED, what, says, change)


def _opening(number: int, found: Found, booked: Decimal) -> RowFate:
    what, more = _what(found), found.quantity - booked
    if not more:
        return RowFate(number, Fate.SAME, what, f"{plain(booked)}, as the book says.")
    if more < 0:
        says = f"The book has {plain(booked)} there already. Bring the list in as a count."
        return refused(number, what, says)
    if found.condition != Condition.GOOD:
        return refused(number, what, "Opening stock is good. Put it on hold afterwards.")
    change = (Change("on hand", plain(booked), plain(found.quantity)),)
    return RowFate(number, Fate.NEW, what, f"{plain(more)} come in as opening stock.", change)


def _what(found: Found) -> str:
    held = ", on hold" if found.condition == Condition.HOLD else ""
    return f"{spelled(found.item, found.length_um)}{held}, at {found.place.name}"


def _count(
    known: Known, wanted: list[tuple[Found, Decimal]], by: User, at: datetime, note: str
) -> None:
    """One count a place: its differences are one entry."""
    by_place: dict[str, list[Found]] = defaultdict(list)
    for found, _ in wanted:
        by_place[found.place.name].append(found)
    for rows in by_place.values():
        ledger.count(
            shop=known.shop, place=known.real(rows[0].place), by=by, at=at,
            reason=f"counted, from the list {note}",
            counted=[Counted(r.item, r.length_um, r.condition, r.quantity) for r in rows],
        )  # fmt: skip


def _bring_in(
    known: Known, wanted: list[tuple[Found, Decimal]], by: User, at: datetime, note: str
) -> None:
    for found, more in wanted:
        ledger.goods_in(
            shop=known.shop, item=found.item, quantity=more, place=known.real(found.place),
            length_um=found.length_um, source="opening stock", is_donated=False, by=by, at=at,
            paper=note,
        )  # fmt: skip
