"""The list of movements: each row written once, and told again as already in the book."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import NAMESPACE_URL, UUID, uuid5

from django.utils import timezone

from inventory.ledger.models import Entry
from inventory.ledger.refusals import plain, spelled
from inventory.materials.models import Item
from inventory.places.models import Shop
from workshops.access.models import User
from workshops.common.columns import Reading, TypedRow
from workshops.stock.exchange.booked import Booked, booked_under, net
from workshops.stock.exchange.ends import End, Kind, both_ends, read_end
from workshops.stock.exchange.fates import Fate, Plan, RowFate, refused
from workshops.stock.exchange.known import Known, Spot, checked_length, checked_quantity
from workshops.stock.exchange.posting import post_groups

NEEDS_WHY = (Kind.SCRAP, Kind.HOLD)


@dataclass(frozen=True, slots=True)
class Movement:
    """One row, understood: so many of an item from one end to the other."""

    number: int
    kind: str
    at: datetime
    item: Item
    length_um: int
    quantity: Decimal
    source: End
    target: End
    values: Mapping[str, Any]

    def __str__(self) -> str:
        what = spelled(self.item, self.length_um)
        return f"{plain(self.quantity)} × {what}, {self.source} → {self.target}"


def plan(shop: Shop, reading: Reading, choices: Mapping[str, Any]) -> Plan:
    """The fate of each row, in the order of the file. 5 queries for 10,000 rows."""
    known = Known(shop, may_add_places=bool(choices.get("places")))
    fates: dict[int, RowFate] = {}
    moves: list[Movement] = []
    for row in reading.rows:
        found = _understood(row, known)
        if isinstance(found, RowFate):
            fates[row.number] = found
        else:
            moves.append(found)
    groups = _grouped(shop, moves)
    booked, there = booked_under(shop, list(groups)), known.quantities()
    to_write: dict[UUID, list[Movement]] = {}
    # From top to bottom, as they are written: what came in above can be used below.
    for key, group in groups.items():
        faults = _faults(group, booked.get(key), there)
        for move in group:
            fates[move.number] = _fate(move, faults, booked.get(key))
        if not faults and key not in booked:
            to_write[key] = group

    def write(by: User, _at: datetime) -> None:
        post_groups(known, to_write, by=by, note=str(choices.get("file", "")))

    added = tuple(place.name for place in known.added.values())
    in_order = [fates[row.number] for row in reading.rows]
    return Plan(in_order, write, added, tuple(known.lacking.values()))


def _understood(row: TypedRow, known: Known) -> Movement | RowFate:
    given, faults = row.values, list(row.faults)
    what = row.texts.get("item") or row.texts.get("key") or "?"
    item, ends, length_um, quantity = None, None, 0, Decimal()
    try:
        item = known.item(given.get("key"), given.get("item"))
        length_um = checked_length(item, given.get("length")) if not faults else 0
        quantity = checked_quantity(item, given.get("quantity") or Decimal())
        if not quantity and not faults:
            faults.append("Quantity: write how many moved.")
    except ValueError as wrong:
        faults.append(str(wrong))
    try:
        told = [read_end(given[n], known) if given.get(n) else None for n in ("source", "target")]
        ends = both_ends(given.get("kind") or "", told[0], told[1]) if not faults else None
    except ValueError as wrong:
        faults.append(str(wrong))
    if given.get("at") and given["at"] > timezone.now():
        faults.append("When: this has not come yet.")
    if faults or item is None or ends is None:
        return refused(row.number, what, *faults)
    return Movement(
        row.number, given["kind"], given["at"], item, length_um, quantity, *ends, given
    )  # fmt: skip


def _grouped(shop: Shop, moves: Sequence[Movement]) -> dict[UUID, list[Movement]]:
    """The rows of one entry together, under the key that the book knows it by.

    Rows of one mark are one entry. A row without a mark is known by what it says, and by how
    many times the file says it: so the file may grow at its end and be brought again.
    """
    space = uuid5(NAMESPACE_URL, f"winterbench:movements:{shop.pk}")
    times: Counter[str] = Counter()
    groups: dict[UUID, list[Movement]] = defaultdict(list)
    for move in moves:
        if mark := move.values.get("mark"):
            key = _key_of_mark(space, mark)
        else:
            said = _said(move)
            times[said] += 1
            key = uuid5(space, f"{said}|{times[said]}")
        groups[key].append(move)
    return groups


def _key_of_mark(space: UUID, mark: str) -> UUID:
    try:
        return UUID(mark)
    except ValueError:
        return uuid5(space, f"mark|{mark}")


def _said(move: Movement) -> str:
    told = [move.kind, move.at.isoformat(), move.item.slug, move.length_um, plain(move.quantity)]
    told += [move.source.compared, move.target.compared, move.values.get("reason")]
    return "|".join(map(str, told))


def _faults(
    group: Sequence[Movement], booked: Booked | None, there: dict[Spot, Decimal]
) -> list[str]:
    """What keeps the group out of the book; what it takes and brings is noted in ``there``."""
    lines = net(_lines(group))
    if booked is not None:
        if booked.lines == lines:
            return []
        return [f"Entry {booked.entry} of the book has this mark and other lines. Entries are "
                "never changed: take it back on its page, and write the right one."]  # fmt: skip
    faults = _odd(group)
    for (item, length_um, end), quantity in lines.items():
        account, place, condition = end
        spot = (item, place, condition, length_um)
        if account == "shelf" and there.get(spot, Decimal()) + quantity < 0:
            lying = plain(there.get(spot, Decimal()))
            faults.append(f"{lying} lie there, {plain(-quantity)} are taken.")
    if not faults:
        for (item, length_um, (account, place, condition)), quantity in lines.items():
            if account == "shelf":
                spot = (item, place, condition, length_um)
                there[spot] = there.get(spot, Decimal()) + quantity
    return faults


def _odd(group: Sequence[Movement]) -> list[str]:
    first = group[0]
    faults = []
    if first.kind == Kind.CORRECTION:
        faults.append("A correction is not brought in: take the entry back on its own page.")
    if first.kind in NEEDS_WHY and not first.values.get("reason"):
        faults.append("Why: fill it in.")
    if first.kind == Kind.GOODS_IN and not first.values.get("supplier"):
        faults.append("From whom: say who sold or gave it.")
    if len({(move.kind, move.at) for move in group}) > 1:
        numbers = ", ".join(str(move.number) for move in group)
        faults.append(f"Rows {numbers} have one mark, but not one kind and one time.")
    if not net(_lines(group)):
        faults.append("It comes to nothing.")
    return faults


def _lines(group: Sequence[Movement]) -> list[tuple[int, int, tuple[str, str, str], Decimal]]:
    found = []
    for move in group:
        found.append((move.item.pk, move.length_um, move.source.compared, -move.quantity))
        found.append((move.item.pk, move.length_um, move.target.compared, move.quantity))
    return found


def _fate(move: Movement, faults: Sequence[str], booked: Booked | None) -> RowFate:
    entry = booked.entry if booked else None
    if faults:
        return replace(refused(move.number, str(move), *faults), entry=entry)
    kind = f"{Entry.Kind(move.kind).label}, {move.at:%Y-%m-%d}."
    fate = Fate.SAME if booked else Fate.NEW
    return RowFate(move.number, fate, str(move), kind.capitalize(), entry=entry)
