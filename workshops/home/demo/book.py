"""``stock.json`` and the tallies: everything that moved, written in the book in order.

The book opens with a stocktake before the first night. Last winter's tallies stand as
counts alone: what they made was set out before the book was opened.
"""

from __future__ import annotations

import uuid
from collections import defaultdict
from collections.abc import Callable, Iterator
from datetime import datetime, time, timedelta
from decimal import Decimal
from functools import partial

from inventory.ledger import actions as ledger
from inventory.ledger.models import Condition
from inventory.materials.models import Item
from inventory.places.models import Place, Shop
from workshops.access.models import User
from workshops.home.demo.days import Days
from workshops.home.demo.deliveries import deliveries_in
from workshops.home.demo.files import Row, length, read
from workshops.home.demo.nights import Told
from workshops.home.demo.stocktakes import stocktakes_in
from workshops.nights.models import Night, Tally
from workshops.stations.models import Operation

OPENED_WEEK = -12
COUNTERS = ("devika", "tobias", "ingrun")  # who writes the tally, the first of them who came
Event = tuple[datetime, Callable[[], object]]
Users = dict[str, User]


def load_book(
    shop: Shop,
    told: list[Told],
    operations: dict[str, Operation],
    *,
    users: Users,
    days: Days,
) -> None:
    """Write stocktakes, deliveries and tallies, oldest first."""
    found = read("stock")
    items = {item.slug: item for item in Item.objects.filter(shop=shop).select_related("home")}
    Tally.objects.bulk_create(_last_winters(told, operations, days))
    keeper = users["devika"]
    events = [
        *_opening(shop, found["opening"], items, by=keeper, days=days),
        *_deliveries(shop, found["goods_in"], items, by=keeper, days=days),
        *stocktakes_in(shop, found, users=users, days=days),
        *_scrapped(shop, found["scrapped"], items, by=keeper, days=days),
        *deliveries_in(shop, items, by=keeper, days=days),
        *_tallies(told, operations, users, days),
    ]
    for _, write in sorted(events, key=lambda event: event[0]):
        write()


def _opening(
    shop: Shop, rows: list[Row], items: dict[str, Item], *, by: User, days: Days
) -> Iterator[Event]:
    """The stocktake with which the book opens, one entry for each place."""
    counted: dict[Place, list[ledger.Counted]] = defaultdict(list)
    for row in rows:
        counted[_home(items[row["item"]])].append(_counted(row, items))
    at = days.at(days.week(OPENED_WEEK), time(10))
    for place, rows_there in counted.items():
        yield at, partial(
            ledger.count, shop=shop, place=place, counted=rows_there, by=by, at=at,
            reason="autumn stocktake: the book opens with it",
        )  # fmt: skip


def _counted(row: Row, items: dict[str, Item]) -> ledger.Counted:
    return ledger.Counted(
        item=items[row["item"]], length_um=_length(row), condition=Condition.GOOD,
        quantity=Decimal(row["quantity"]),
    )  # fmt: skip


def _length(row: Row) -> int:
    return length(row["length"]) if "length" in row else 0


def _home(item: Item) -> Place:
    assert item.home is not None  # every item of the demo has one
    return item.home


def _deliveries(
    shop: Shop, rows: list[Row], items: dict[str, Item], *, by: User, days: Days
) -> Iterator[Event]:
    for row in rows:
        item, at = items[row["item"]], days.at(days.week(row["week"]) - timedelta(days=1), time(16))
        yield at, partial(
            ledger.goods_in, shop=shop, item=item, quantity=Decimal(row["quantity"]),
            place=_home(item), length_um=_length(row), source=row["source"],
            is_donated=row.get("is_donated", False), value=Decimal(row["value"]),
            value_basis=row.get("value_basis", "invoice"), by=by, at=at,
        )  # fmt: skip


def _scrapped(
    shop: Shop, rows: list[Row], items: dict[str, Item], *, by: User, days: Days
) -> Iterator[Event]:
    for row in rows:
        item, at = items[row["item"]], _evening(row, days)
        yield at, partial(
            ledger.scrap, shop=shop, item=item, quantity=Decimal(row["quantity"]),
            place=_home(item), reason=row["reason"], by=by, at=at,
        )  # fmt: skip


def _evening(row: Row, days: Days) -> datetime:
    return days.at(days.night(row), time(17, 30))


def _tallies(
    told: list[Told], operations: dict[str, Operation], users: Users, days: Days
) -> Iterator[Event]:
    """This winter's tallies: each consumes and produces in the book."""
    for row, night in told:
        if "stood" not in row:
            continue
        user = next(users[key] for key in COUNTERS if key in row["came"])
        for place, made in enumerate(row["made"]):
            at = days.at(night.date, night.stop) + timedelta(minutes=place // 2)
            tally = _tally(night, operations[made["operation"]], made, at=at, who=user.first_name)
            tally.by = user
            yield at, partial(_post, tally)


def _tally(night: Night, operation: Operation, made: Row, *, at: datetime, who: str) -> Tally:
    """The tally of one row of the file, not saved; its key is the same whenever it is loaded."""
    name = f"quillmere/{night.date.isoformat()}/{operation.slug}"
    return Tally(
        shop=night.shop, night=night, operation=operation, counted_at=at, counted_by=who,
        good=made["good"], hold=made.get("hold", 0), scrap=made.get("scrap", 0),
        person_minutes=made["minutes"], client_key=uuid.uuid5(uuid.NAMESPACE_URL, name),
    )  # fmt: skip


def _post(tally: Tally) -> None:
    """One entry and its tally; refused when the files use more than was delivered."""
    tally.entry = ledger.make(
        shop=tally.shop, recipe=tally.operation.recipe, good=tally.good, hold=tally.hold,
        scrap=tally.scrap, by=tally.by, at=tally.counted_at, client_key=tally.client_key,
        night_key=tally.night.date.isoformat(), cover_shortfall=False,
    )  # fmt: skip
    tally.save()


def _last_winters(
    told: list[Told], operations: dict[str, Operation], days: Days
) -> Iterator[Tally]:
    for row, night in told:
        if "stood" not in row:
            at = days.at(night.date, night.stop)
            for made in row.get("made", ()):
                yield _tally(night, operations[made["operation"]], made, at=at, who="Devika")
