"""``nights.json`` and ``last_winter.json``: the nights of both winters and their hours."""

from __future__ import annotations

from typing import NamedTuple

from inventory.places.models import Shop
from workshops.home.demo.days import Days, clock
from workshops.home.demo.files import Row, kept, read
from workshops.nights.models import Block, Night


class Told(NamedTuple):
    """A night as it is told in the file, and its row."""

    row: Row
    night: Night


def load_nights(shop: Shop, days: Days) -> list[Told]:
    """Every night of both winters with its blocks, oldest first."""
    found = read("nights")
    rows = [{"status": "closed"} | row for row in read("last_winter")["nights"]]
    rows += found["nights"]
    made = Night.objects.bulk_create(_night(shop, row, found["hours"], days) for row in rows)
    told = sorted(map(Told, rows, made), key=lambda each: each.night.date)
    Block.objects.bulk_create(
        Block(night=night, index=index, starts=clock(starts), ends=clock(ends))
        for row, night in told
        for index, (starts, ends) in enumerate(_hours(row, found["hours"])["blocks"])
    )
    return told


def _hours(row: Row, hours: Row) -> Row:
    found: Row = hours["saturday" if row.get("day") == "saturday" else "evening"]
    return found


def _night(shop: Shop, row: Row, hours: Row, days: Days) -> Night:
    its = _hours(row, hours)
    return Night(
        shop=shop, date=days.night(row), doors=clock(its["doors"]), stop=clock(its["stop"]),
        lock_up=clock(its["lock_up"]), **kept(row, "kind", "status", "goal", "note"),
    )  # fmt: skip
