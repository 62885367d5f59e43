"""``deliveries.json``: an order, and what came at the door with what was measured of it."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterator
from datetime import datetime, time, timedelta
from decimal import Decimal
from functools import partial

from inventory.deliveries import ordering
from inventory.deliveries.actions import Arrival, Measured, receive
from inventory.deliveries.models import Order
from inventory.materials.models import Item
from inventory.places.models import Shop
from workshops.access.models import User
from workshops.club.queries import rules_of
from workshops.home.demo.days import Days
from workshops.home.demo.files import Row, kept, length, lengths, read
from workshops.stock.judging import Bench, bench_of, judge

HOUR = time(16, 30)  # after what stands in the book alone, on the same day


def deliveries_in(
    shop: Shop, items: dict[str, Item], *, by: User, days: Days
) -> Iterator[tuple[datetime, Callable[[], object]]]:
    """The orders at once; each delivery with its time, to be booked in when that comes."""
    found, bench = read("deliveries"), bench_of(shop)
    orders = {row["key"]: _ordered(shop, row, items, by=by, days=days) for row in found["orders"]}
    letter = rules_of(shop).letter_days
    for number, row in enumerate(found["deliveries"]):
        at = days.at(days.week(row["week"]) - timedelta(days=1), HOUR) + timedelta(minutes=number)
        due = at.date() + timedelta(days=letter) if letter and row.get("is_donated") else None
        yield at, partial(
            receive, shop=shop, source=row["source"], is_donated=row.get("is_donated", False),
            lines=[_arrival(line, items, bench) for line in row["lines"]], by=by, at=at,
            client_key=uuid.uuid5(uuid.NAMESPACE_URL, f"{shop.slug}/delivery/{number}"),
            order=orders.get(row.get("order", "")), letter_due_on=due,
            **kept(row, "paper", "value_basis", "grant", "note"),
        )  # fmt: skip


def _ordered(shop: Shop, row: Row, items: dict[str, Item], *, by: User, days: Days) -> Order:
    day = days.week(row["week"]) - timedelta(days=2)
    lines = [_asked(line, items) for line in row["lines"]]
    order = ordering.draft(
        shop=shop, supplier=row["supplier"], by=by, at=days.at(day, HOUR), lines=lines,
        note=row.get("note", ""),
    )  # fmt: skip
    expected = day + timedelta(weeks=row["expected_weeks"])
    return ordering.send(order=order, on=day, by=by, expected_on=expected)


def _asked(line: Row, items: dict[str, Item]) -> ordering.Asked:
    item = items[line["item"]]
    return ordering.Asked(
        item, Decimal(line["quantity"]), _length(line), unit_price=item.unit_price
    )  # fmt: skip


def _arrival(line: Row, items: dict[str, Item], bench: Bench) -> Arrival:
    item = items[line["item"]]
    sizes = lengths(line, "outside", "wall", "wire")
    measured = Measured(
        finish=line.get("finish", ""), outside_um=sizes.get("outside_um"),
        wall_um=sizes.get("wall_um"), wire_um=sizes.get("wire_um"),
    )  # fmt: skip
    judged = judge(item, measured, bench)
    return Arrival(
        item=item, quantity=Decimal(line["quantity"]), length_um=_length(line),
        value=Decimal(line["value"]) if "value" in line else None, measured=measured,
        judged=[each.to_json() for each in judged.verdicts],
        hold_because=line.get("hold", "") or judged.why_held,
    )  # fmt: skip


def _length(line: Row) -> int:
    return length(line["length"]) if "length" in line else 0
