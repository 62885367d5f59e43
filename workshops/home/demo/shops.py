"""``shop.json``: the shop, its rooms, the club and what it has decided."""

from __future__ import annotations

from datetime import time

from inventory.places.models import Room, Shop
from workshops.club.actions import set_rule
from workshops.club.models import Club
from workshops.home.demo.days import Days
from workshops.home.demo.files import Row, length, read

DECIDED_WEEK = -13  # the autumn meeting


def load_shop() -> Shop:
    """The shop with its rooms and its club."""
    found = read("shop")
    shop = Shop.objects.create(**found["shop"])
    Room.objects.bulk_create(Room(shop=shop, name=name) for name in found["rooms"])
    Club.objects.create(shop=shop, **found["club"])
    return shop


def load_rules(shop: Shop, days: Days) -> None:
    """What the club has decided at its autumn meeting."""
    for row in read("shop")["rules"]:
        set_rule(
            shop=shop, key=row["key"], value=_value(row), decided_by=row["decided_by"],
            decided_on=days.week(DECIDED_WEEK), source=row["source"], by=None,
            at=days.at(days.today, time(12)),
        )  # fmt: skip


def _value(row: Row) -> int:
    return length(row["length"]) if "length" in row else int(row["value"])
