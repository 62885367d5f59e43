"""What goes out: items, stock and movements as rows that can come in again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from itertools import groupby
from typing import Any

from inventory.ledger.models import Balance, Line
from inventory.materials.models import Item
from inventory.places.models import Shop
from workshops.common.columns import Column
from workshops.common.fields import spell_exactly
from workshops.common.sheets import Cell
from workshops.stock.exchange.counts import CONDITIONS
from workshops.stock.exchange.ends import End, flows
from workshops.stock.exchange.item_columns import FIELDS, LENGTHS
from workshops.stock.exchange.items import shown
from workshops.stock.exchange.kinds import ITEMS, KINDS, MOVEMENTS, STOCK
from workshops.stock.exchange.movement_columns import KINDS as ENTRY_KINDS

AT_ONCE = 2_000  # rows held at a time: a book of ten winters does not fit the laptop


def rows_out(
    kind: str, shop: Shop, first: date | None = None, last: date | None = None
) -> Iterator[Sequence[Cell]]:
    """The heading row and the rows of a list, one by one; the days bound movements only."""
    yield headings(KINDS[kind].columns(shop))
    if kind == ITEMS.key:
        yield from item_rows(shop)
    elif kind == STOCK.key:
        yield from stock_rows(shop)
    elif kind == MOVEMENTS.key:
        yield from movement_rows(shop, first, last)


def headings(columns: Iterable[Column]) -> list[Cell]:
    """The heading row."""
    return [column.heading for column in columns]


def template_rows(kind: str, shop: Shop) -> list[list[Cell]]:
    """The heading row and one example."""
    columns = KINDS[kind].columns(shop)
    return [headings(columns), [column.example for column in columns]]


def item_rows(shop: Shop) -> Iterator[list[Cell]]:
    """The shop's items by name. 1 query."""
    items = Item.objects.filter(shop=shop).select_related("home").order_by("name", "size", "pk")
    for item in items.iterator(AT_ONCE):
        yield [item.slug, *(_field(name, getattr(item, name), shop) for name in FIELDS)]


def _field(name: str, value: Any, shop: Shop) -> Cell:
    """Numbers as numbers, so that a spreadsheet can add them up."""
    is_number = isinstance(value, int | Decimal) and not isinstance(value, bool)
    return value if is_number and name not in LENGTHS else shown(name, value, shop)


def stock_rows(shop: Shop) -> Iterator[list[Cell]]:
    """What lies where now, place by place. 1 query."""
    rows = Balance.objects.filter(item__shop=shop, quantity__gt=0)
    rows = rows.select_related("item", "place").order_by("place__name", "item__name", "-length_um")
    for row in rows.iterator(AT_ONCE):
        yield [
            row.place.name, str(row.item), row.item.slug, _length(row.length_um, shop),
            CONDITIONS[row.condition][0], row.quantity.normalize(),
        ]  # fmt: skip


def _length(length_um: int, shop: Shop) -> str:
    return spell_exactly(length_um, shop.length_units) if length_um else ""


@dataclass(frozen=True, slots=True)
class _Thing:
    """What must balance: an item of one length."""

    slug: str
    name: str
    length_um: int


_VALUES = (
    "entry_id", "entry__at", "entry__kind", "entry__reason", "entry__by__first_name",
    "entry__by__username", "entry__night_key", "entry__paper", "entry__client_key",
    "entry__goods_in__source", "entry__goods_in__is_donated", "entry__goods_in__value",
    "entry__goods_in__value_basis", "item__slug", "item__name", "item__size", "length_um",
    "account", "place__name", "condition", "quantity",
)  # fmt: skip


def movement_rows(shop: Shop, first: date | None, last: date | None) -> Iterator[list[Cell]]:
    """Movements of the days from ``first`` to ``last``, in the order they were written. 1 query.

    Read as they are sent: a hundred thousand lines are never held at once.
    """
    lines = Line.objects.filter(entry__shop=shop)
    if first:
        lines = lines.filter(entry__at__gte=_midnight(first, shop))
    if last:
        lines = lines.filter(entry__at__lt=_midnight(last + timedelta(days=1), shop))
    # In the order of the book: so that brought in elsewhere, things come before they go.
    rows = lines.order_by("entry_id", "pk").values(*_VALUES).iterator(AT_ONCE)
    for _, entry in groupby(rows, key=lambda row: row["entry_id"]):
        yield from _entry_rows(list(entry), shop)


def _midnight(day: date, shop: Shop) -> datetime:
    return datetime.combine(day, time(0), tzinfo=shop.zone)


def _entry_rows(lines: list[dict[str, Any]], shop: Shop) -> Iterator[list[Cell]]:
    told = lines[0]
    tail: list[Cell] = [
        told["entry__reason"], told["entry__by__first_name"] or told["entry__by__username"],
        told["entry__night_key"], told["entry__paper"], told["entry__goods_in__source"],
        told["entry__goods_in__is_donated"], told["entry__goods_in__value"],
        told["entry__goods_in__value_basis"], str(told["entry__client_key"]),
    ]  # fmt: skip
    at = f"{told['entry__at'].astimezone(shop.zone):%Y-%m-%d %H:%M}"
    for thing, source, target, quantity in flows(_sides(lines)):
        yield [
            at, ENTRY_KINDS[told["entry__kind"]][0], thing.name, thing.slug,
            _length(thing.length_um, shop), quantity.normalize(), str(source), str(target), *tail,
        ]  # fmt: skip


def _sides(lines: list[dict[str, Any]]) -> Iterator[tuple[_Thing, End, Any]]:
    for line in lines:
        name, size = line["item__name"], line["item__size"]
        thing = _Thing(line["item__slug"], f"{name}, {size}" if size else name, line["length_um"])
        yield thing, End(line["account"], line["place__name"] or "", line["condition"]), (
            line["quantity"]
        )  # fmt: skip
