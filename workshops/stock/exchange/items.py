"""The list of items: what is new, what changes field by field, what stays as it is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.text import slugify

from inventory.ledger.refusals import plain
from inventory.materials import actions
from inventory.materials.models import Item
from inventory.places.models import Place, Shop
from workshops.access.models import User
from workshops.common.columns import Reading, TypedRow
from workshops.common.fields import spell_exactly
from workshops.stock.exchange.fates import Change, Fate, Plan, RowFate, refused
from workshops.stock.exchange.item_columns import CHOICES, FIELDS, HEADINGS, LENGTHS
from workshops.stock.exchange.known import Known, word

# Not asked of the database row by row: whether they exist is known, and what must be unique
# is looked up in one go.
NOT_CLEANED = ("shop", "home")
_FIELDS: dict[str, Any] = {name: Item._meta.get_field(name) for name in FIELDS}


@dataclass(frozen=True, slots=True)
class Wanted:
    """An item to add (``item`` is ``None``) or to describe anew, with the fields given."""

    item: Item | None
    slug: str
    given: dict[str, Any]


def plan(shop: Shop, reading: Reading, choices: Mapping[str, Any]) -> Plan:
    """The fate of each row against the items as they are. 2 queries."""
    known = Known(shop, may_add_places=bool(choices.get("places")))
    seen: dict[str, int] = {}
    wanted: list[Wanted] = []
    fates: list[RowFate] = []
    for row in reading.rows:
        found = _understood(row, known)
        if isinstance(found, RowFate):
            fates.append(found)
            continue
        first = seen.setdefault(found.slug, row.number)
        fate = _fate(row, found) if first == row.number else _twice(row, first)
        fates.append(fate)
        if fate.fate in (Fate.NEW, Fate.CHANGED):
            wanted.append(found)

    def write(_by: User, _at: datetime) -> None:
        _write(known, wanted)

    added = tuple(place.name for place in known.added.values())
    return Plan(fates, write, added, tuple(known.lacking.values()))


def _twice(row: TypedRow, first: int) -> RowFate:
    return refused(row.number, _called(row), f"Row {first} is about the same item.")


def _called(row: TypedRow) -> str:
    parts = [row.texts.get(name, "") for name in ("name", "size")]
    return ", ".join(filter(None, parts)) or row.texts.get("key") or "?"


def _understood(row: TypedRow, known: Known) -> Wanted | RowFate:
    """Which item the row means and what it says of it, or its refusal."""
    faults = list(row.faults)
    given = {name: row.values[name] for name in FIELDS if name in row.values}
    try:
        item = _meant(row, known)
        if given.get("home"):
            given["home"] = known.place(given["home"])
    except ValueError as wrong:
        return refused(row.number, _called(row), *faults, str(wrong))
    given = _filled(given, item)
    slug = item.slug if item else (row.values.get("key") or slugify(_called(row))[:60])
    faults += _faults(known, item, slug, given)
    return refused(row.number, _called(row), *faults) if faults else Wanted(item, slug, given)


def _meant(row: TypedRow, known: Known) -> Item | None:
    """The item of that key, else the one of that name and size; ``None`` for a new one."""
    if key := row.values.get("key"):
        return known.by_key.get(key)
    name, size = row.values.get("name") or "", row.values.get("size")
    found = known.by_name.get(word(f"{name}, {size}" if size else name), [])
    exact = [item for item in found if word(item.name) == word(name)]
    exact = [item for item in exact if size is None or word(item.size) == word(size)]
    if len(exact) > 1:
        keys = ", ".join(item.slug for item in exact[:4])
        raise ValueError(f"Several items go by this name. Write the key of one: {keys}.")
    return exact[0] if exact else None


def _filled(given: dict[str, Any], item: Item | None) -> dict[str, Any]:
    """An empty cell clears what may be empty, and leaves the rest as it is or usual."""
    filled: dict[str, Any] = {}
    for name, value in given.items():
        field = _FIELDS[name]
        if value is not None:
            filled[name] = value
        elif field.null:
            filled[name] = None
        elif field.blank or field.default == 0:
            filled[name] = "" if field.blank else 0
        elif item is None and field.has_default():
            filled[name] = field.get_default()
    return filled


def _faults(known: Known, item: Item | None, slug: str, given: dict[str, Any]) -> list[str]:
    """What keeps the item from being as the row says."""
    if item and given.get("kind", item.kind) != item.kind:
        return [f"It is {item.get_kind_display()}, and its kind stays: the book counts by it."]
    if item is None and not given.get("kind"):
        kinds = ", ".join(str(label) for label in Item.Kind.labels)
        return [f"A new item says its kind: {kinds}."]
    if item is None and (other := known.by_key.get(slug)):
        return [f"Its page would be that of {other}. Add a word to the name, or give a key."]
    if item and not _changes(item, given):
        return []
    now = {name: getattr(item, name) for name in FIELDS} if item else {}
    meant = Item(shop=known.shop, slug=slug, **(now | given))
    try:
        meant.clean_fields(exclude=NOT_CLEANED)
    except ValidationError as wrong:
        return [f"{HEADINGS.get(n, 'Key')}: {' '.join(s)}" for n, s in wrong.message_dict.items()]
    return _at_odds(meant)


def _at_odds(item: Item) -> list[str]:
    """Fields that cannot stand beside each other."""
    faults = []
    if item.is_by_length and not item.shape:
        faults.append("Section: fill it in, for it is cut from by length.")
    if item.wall_um and (not item.outside_um or item.wall_um * 2 >= item.outside_um):
        faults.append("Wall: must be less than half of the side or diameter.")
    if item.pack_size < 1:
        faults.append("In a pack: a pack holds one at least.")
    sizes = [item.bale_length_um, item.bale_width_um, item.bale_height_um]
    if any(sizes) and not all(sizes):
        faults.append("A bale has three sizes: give all of them, or none.")
    return faults


def _fate(row: TypedRow, wanted: Wanted) -> RowFate:
    item, called = wanted.item, _called(row)
    if item is None:
        return RowFate(row.number, Fate.NEW, called, f"Its key will be {wanted.slug}.")
    changes = _changes(item, wanted.given)
    fate = Fate.CHANGED if changes else Fate.SAME
    return RowFate(row.number, fate, str(item), "" if changes else "As the shop has it.", changes)


def _changes(item: Item, given: Mapping[str, Any]) -> tuple[Change, ...]:
    return tuple(
        Change(HEADINGS[name], shown(name, getattr(item, name), item.shop),
               shown(name, value, item.shop))
        for name, value in given.items() if not _is_alike(getattr(item, name), value)
    )  # fmt: skip


def _is_alike(one: Any, other: Any) -> bool:
    if isinstance(one, Place) and isinstance(other, Place):
        return word(one.name) == word(other.name)
    return bool(one == other)


def shown(name: str, value: Any, shop: Shop) -> str:
    """A field of an item as a list writes it, so that it is read back as the same."""
    if value is None or value == "":
        return ""
    if name in LENGTHS:
        return spell_exactly(value, shop.length_units) if value else ""
    if name in CHOICES:
        return next(iter(CHOICES[name][value]))
    if isinstance(value, bool):
        return "yes" if value else "no"
    return plain(value) if isinstance(value, Decimal) else str(value)


def _write(known: Known, wanted: Sequence[Wanted]) -> None:
    new: list[Item] = []
    changed: list[tuple[Item, dict[str, Any]]] = []
    for each in wanted:
        given = dict(each.given)
        if given.get("home"):
            given["home"] = known.real(given["home"])
        if each.item is None:
            new.append(Item(shop=known.shop, slug=each.slug, **given))
        else:
            now = each.item
            given = {n: v for n, v in given.items() if not _is_alike(getattr(now, n), v)}
            changed.append((now, given))
    actions.keep_items(new=new, changed=changed)
