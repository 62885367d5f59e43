"""``orders.json``: what is on its way, what is being written, and what is always kept."""

from __future__ import annotations

from datetime import date, time
from decimal import Decimal

from inventory.deliveries import ordering
from inventory.deliveries.models import Order
from inventory.deliveries.ordering import Asked
from inventory.materials.models import Item
from inventory.places.models import Shop
from workshops.access.models import User
from workshops.home.demo.days import Days
from workshops.home.demo.files import Row, read

HOUR = time(10)


def load_orders(shop: Shop, items: dict[str, Item], *, by: User, days: Days) -> list[Order]:
    """The orders of tonight, after those that the deliveries came on."""
    found = read("orders")
    _keep(found, items, days)
    made = []
    for row in (*found["sent"], *found["drafts"]):
        order = _draft(shop, row, items, by=by, days=days, deliver_to=found["deliver_to"])
        if "sent_day" in row:
            on, due = days.day(row["sent_day"]), days.day(row["expected_day"])
            order = ordering.send(order=order, on=on, by=by, expected_on=due)
        made.append(order)
    return made


def _keep(found: Row, items: dict[str, Item], days: Days) -> None:
    """What is never to run low, and the last days of what is sold once a year."""
    for slug, level in found["kept"].items():
        items[slug].keep_at_least = level
    for slug, day in found["last_order_day"].items():
        items[slug].last_order_on = days.day(day)
    rows = {items[slug] for slug in (*found["kept"], *found["last_order_day"])}
    Item.objects.bulk_update(rows, ["keep_at_least", "last_order_on"])


def _draft(
    shop: Shop, row: Row, items: dict[str, Item], *, by: User, days: Days, deliver_to: str
) -> Order:
    written: date = days.day(row.get("sent_day", 0))
    rows = [(items[line["item"]], Decimal(line["quantity"])) for line in row["lines"]]
    lines = [Asked(item, quantity, unit_price=item.unit_price) for item, quantity in rows]
    return ordering.draft(
        shop=shop, supplier=row["supplier"], lines=lines, by=by, at=days.at(written, HOUR),
        wanted_on=days.day(row["wanted_day"]), deliver_to=deliver_to, note=row.get("note", ""),
    )  # fmt: skip
