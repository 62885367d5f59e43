"""``readings.json``: what was probed in the loft this winter; one stack calls for a look."""

from __future__ import annotations

import uuid
from datetime import timedelta
from decimal import Decimal

from inventory.materials.models import Item
from inventory.places.models import Shop
from inventory.readings.actions import take_reading
from workshops.access.models import User
from workshops.home.demo.days import Days, clock
from workshops.home.demo.files import Row, read

PROBED_BY = "devika"


def load_readings(shop: Shop, *, users: dict[str, User], days: Days) -> None:
    """Write them down, oldest first, each under a key that is the same whenever it is loaded."""
    items = {item.slug: item for item in Item.objects.filter(shop=shop).select_related("home")}
    for row in read("readings")["readings"]:
        _take(shop, items[row["item"]], row, by=users[PROBED_BY], days=days)


def _take(shop: Shop, item: Item, row: Row, *, by: User, days: Days) -> None:
    assert item.home is not None  # every item of the demo has one
    at = days.at(days.today - timedelta(days=row["days_ago"]), clock(row["hour"]))
    take_reading(
        shop=shop, item=item, place=item.home, lot=row["lot"], at=at, by=by,
        temperature=_decimal(row, "temperature"), moisture_percent=_decimal(row, "moisture"),
        note=row.get("note", ""),
        client_key=uuid.uuid5(uuid.NAMESPACE_URL, f"quillmere/{item.slug}/{at.isoformat()}"),
    )  # fmt: skip


def _decimal(row: Row, name: str) -> Decimal | None:
    return Decimal(row[name]) if name in row else None
