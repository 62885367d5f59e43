"""The stocktakes of the demo: one on a snowed-off evening, long posted, and one under way."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, time, timedelta
from decimal import Decimal
from functools import partial

from inventory.ledger.queries import balances_at
from inventory.places.models import Place, Shop
from inventory.stocktake import actions
from inventory.stocktake.models import CountSheet
from workshops.access.models import User
from workshops.home.demo.days import Days
from workshops.home.demo.files import Row

Users = dict[str, User]
EVENING = time(17, 30)
AFTERNOON = time(15)


def stocktakes_in(
    shop: Shop, found: Row, *, users: Users, days: Days
) -> Iterator[tuple[datetime, Callable[[], object]]]:
    """Each stocktake with the time at which it is to be written."""
    for row in found["counts"]:
        at = days.at(days.night(row), EVENING)
        yield at, partial(_posted, shop, row, users=users, at=at)
    row = found["under_way"]
    at = days.at(days.day(row["day"]), AFTERNOON)
    yield at, partial(_under_way, shop, row, users=users, at=at)


def _posted(shop: Shop, row: Row, *, users: Users, at: datetime) -> None:
    """Counted twice, the same both times; explained where somebody could, and posted."""
    sheet = _begun(shop, row, [row["place"]], by=users["devika"], at=at - timedelta(minutes=50))[0]
    for turn, who, minutes in ((1, "tobias", 25), (2, "devika", 0)):
        done = at - timedelta(minutes=minutes)
        for n, each in enumerate(row["counted"]):
            # One thing after the other: each is counted at a moment of its own.
            moment = done - timedelta(minutes=n)
            counts = {_line(sheet, each["item"]): Decimal(each["quantity"])}
            _put(sheet, turn, users[who], counts=counts, at=moment)
        actions.finish_look(sheet=sheet, turn=turn, at=done)
    told = {_line(sheet, each["item"]): (each["reason"], each["words"]) for each in row["counted"]}
    actions.explain(sheet=sheet, reasons=told)
    actions.open_book(sheet=sheet, by=users["devika"], at=at)
    actions.post_sheet(sheet=sheet, by=users["devika"], at=at)


def _under_way(shop: Shop, row: Row, *, users: Users, at: datetime) -> None:
    """One place counted twice and not alike, one counted once, one not at all."""
    twice, once, _ = _begun(shop, row, row["places"], by=users["devika"], at=at)
    first = _booked(twice)
    second = dict(first)
    second[_line(twice, row["differs"])] -= row["fewer"]
    for sheet, turn, who, counts in (
        (twice, 1, "tobias", first), (twice, 2, "devika", second),
        (once, 1, "tobias", _booked(once)),
    ):  # fmt: skip
        at += timedelta(minutes=20)
        _put(sheet, turn, users[who], counts=counts, at=at)
        actions.finish_look(sheet=sheet, turn=turn, at=at)


def _begun(shop: Shop, row: Row, names: list[str], *, by: User, at: datetime) -> list[CountSheet]:
    """The sheets of the named places, in their order."""
    places = {place.name: place for place in Place.objects.filter(shop=shop, name__in=names)}
    made = actions.open_stocktake(
        shop=shop, name=row["name"], places=[places[name] for name in names], by=by, at=at,
        note=row["note"],
    )  # fmt: skip
    sheets = {sheet.place_id: sheet for sheet in made.sheets.select_related("place", "stocktake")}
    return [sheets[places[name].pk] for name in names]


def _put(
    sheet: CountSheet, turn: int, who: User, *, counts: dict[int, Decimal], at: datetime
) -> None:
    counter = actions.Counter(who.get_full_name() or who.first_name)
    actions.put_count(sheet=sheet, turn=turn, counter=counter, counts=dict(counts), by=who, at=at)


def _line(sheet: CountSheet, slug: str) -> int:
    return sheet.lines.get(item__slug=slug, condition="good").pk


def _booked(sheet: CountSheet) -> dict[int, Decimal]:
    """Line -> what the book has there, as somebody counts who finds nothing wrong."""
    lying = {
        (row.item_id, row.length_um, row.condition): row.quantity
        for row in balances_at(sheet.place)
    }
    return {
        line.pk: lying.get((line.item_id, line.length_um, line.condition), Decimal())
        for line in sheet.lines.all()
    }
