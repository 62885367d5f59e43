"""Two tablets doing the same thing of the stock at one moment, each on its own connection.

``outcome_of`` runs the scenes in a process of its own on a database of its own; each scene
is played several times, for threads meet only now and then.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Any
from uuid import uuid4

from django.core.management import call_command
from django.db import connection
from django.utils import timezone

from inventory.cutting.actions import CutRefused, Done, cut, make_cut_list
from inventory.cutting.models import CutTick
from inventory.deliveries import ordering
from inventory.deliveries.actions import Arrival, DeliveryRefused, receive
from inventory.deliveries.models import Delivery, Order
from inventory.ledger import actions as ledger
from inventory.ledger.checking import faults
from inventory.ledger.models import Entry
from inventory.ledger.queries import balance_of, pieces_of
from inventory.materials.models import Item
from inventory.measures.lengths import feet
from inventory.places.models import Shop
from inventory.readings.actions import ReadingRefused, correct_reading, take_reading
from inventory.readings.models import Reading
from inventory.stocktake.actions import (
    Counter,
    StocktakeRefused,
    finish_look,
    open_book,
    open_stocktake,
    post_sheet,
    put_count,
)
from inventory.stocktake.models import CountSheet
from tests.factories import make_item, make_member, make_place, make_shop
from workshops.common.sheets import write_csv
from workshops.common.uploads import keep_upload
from workshops.environment import BASE
from workshops.stock.exchange.commit import ListGone, commit
from workshops.stock.exchange.preview import preview_of

AT = datetime(2026, 1, 10, 9, 0, tzinfo=UTC)
ROUNDS = 6
Outcome = dict[str, Any]

# A process of its own: the tests' database is one that threads cannot share.
RUN = "import django; django.setup(); from tests.workshops.stock.tablets import play; play()"


def outcome_of(database_url: str) -> Outcome:
    """What the scenes left behind on that database, and what is wrong in the book."""
    environment = os.environ | {
        "DATABASE_URL": database_url,
        "DJANGO_SETTINGS_MODULE": "workshops.settings",
        "PYTHONPATH": str(BASE),
    }
    ran = subprocess.run(
        [sys.executable, "-c", RUN],
        capture_output=True, text=True, env=environment, cwd=BASE, timeout=180, check=False,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    return dict(json.loads(ran.stdout))


def play() -> None:
    """Every scene on a fresh database; prints what came of each as JSON."""
    call_command("migrate", verbosity=0)
    shop = make_shop()
    scenes = (
        posted_twice, posted_while_used, received_twice, received_while_called_off, cut_together,
        changed_while_sent, list_written_twice, reading_corrected_twice,
    )  # fmt: skip
    told: Outcome = {each.__name__: [each(shop) for _ in range(ROUNDS)] for each in scenes}
    told["faults"] = [str(fault) for fault in faults(shop)]
    sys.stdout.write(json.dumps(told))


def together(*works: Callable[[], object]) -> list[str]:
    """What each came to: the name of what refused it, or nothing; sorted."""
    start, said = threading.Barrier(len(works)), []

    def run(work: Callable[[], object]) -> None:
        start.wait()
        try:
            work()
            said.append("")
        except Exception as error:
            said.append(type(error).__name__)
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=(work,)) for work in works]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return sorted(said)


def bolts(shop: Shop, many: int) -> Item:
    item = make_item(shop, home=make_place(shop))
    ledger.goods_in(
        shop=shop, item=item, quantity=Decimal(many), place=item.home, source="Reed & Sons",
        is_donated=False, by=None, at=AT,
    )  # fmt: skip
    return item


def counted(shop: Shop, item: Item, many: int) -> CountSheet:
    """A sheet that two people counted an hour later, its book open."""
    stocktake = open_stocktake(shop=shop, name="January", places=[item.home], by=None, at=AT)
    sheet, seen = stocktake.sheets.get(), AT + timedelta(hours=1)
    counts = {line.pk: Decimal(many) for line in sheet.lines.all()}
    for turn, name in ((1, "Anders"), (2, "Birte")):
        put_count(
            sheet=sheet, turn=turn, counter=Counter(name), counts=counts, by=None, at=seen
        )  # fmt: skip
        finish_look(sheet=sheet, turn=turn, at=seen)
    open_book(sheet=sheet, by=None, at=seen)
    return sheet


def posted_twice(shop: Shop) -> Outcome:
    """Thirty by the book, 26 counted."""
    item = bolts(shop, 30)
    sheet = counted(shop, item, 26)
    said = together(*[lambda: post_sheet(sheet=sheet, by=None, at=AT)] * 4)
    entries = Entry.objects.filter(kind="counted", lines__item=item).distinct().count()
    return {"said": said, "entries": entries, "there": int(balance_of(item))}


def posted_while_used(shop: Shop) -> Outcome:
    """26 of thirty counted, and five used since, while it is posted."""
    item = bolts(shop, 30)
    sheet = counted(shop, item, 26)

    def use() -> None:
        for _ in range(5):
            ledger.scrap(
                shop=shop, item=item, quantity=Decimal(1), place=item.home, reason="bent",
                by=None, at=AT + timedelta(hours=2),
            )  # fmt: skip

    said = together(use, lambda: post_sheet(sheet=sheet, by=None, at=AT))
    return {"said": said, "there": int(balance_of(item))}


def ordered(shop: Shop, item: Item) -> Order:
    asked = [ordering.Asked(item, Decimal(10))]
    return ordering.draft(shop=shop, supplier=f"Reed & Sons {item.pk}", by=None, at=AT, lines=asked)


def arrive(shop: Shop, item: Item, order: Order, key: Any = None) -> Delivery:
    return receive(
        shop=shop, source=order.supplier, is_donated=False, order=order, by=None, at=AT,
        lines=[Arrival(item=item, quantity=Decimal(4))], client_key=key or uuid4(),
    )  # fmt: skip


def received_twice(shop: Shop) -> Outcome:
    item, key = bolts(shop, 1), uuid4()
    order = ordering.send(order=ordered(shop, item), on=AT.date(), by=None)
    said = together(*[lambda: arrive(shop, item, order, key)] * 4)
    came = Delivery.objects.filter(order=order).count()
    return {"said": said, "deliveries": came, "there": int(balance_of(item))}


def received_while_called_off(shop: Shop) -> Outcome:
    """One of the two is refused: nothing comes on an order that was called off."""
    item = bolts(shop, 1)
    order = ordering.send(order=ordered(shop, item), on=AT.date(), by=None)
    said = together(
        lambda: ordering.cancel(order=order, by=None, at=AT, why="too dear"),
        lambda: arrive(shop, item, order),
    )
    order.refresh_from_db()
    return {"said": said, "state": order.state, "there": int(balance_of(item))}


def cut_together(shop: Shop) -> Outcome:
    """Six sticks on the list, and four tablets that tick two each."""
    tube = make_item(shop, kind=Item.Kind.METAL, home=make_place(shop), keep_um=feet(1))
    ledger.goods_in(
        shop=shop, item=tube, quantity=Decimal(9), place=tube.home, length_um=feet(20),
        source="Reed & Sons", is_donated=False, by=None, at=AT,
    )  # fmt: skip
    run = make_cut_list(shop=shop, item=tube, pieces=[("Post", feet(7), 12)], by=None)
    done = Done(by=None, at=AT)
    said = together(*[lambda: cut(run=run, pattern=0, sticks=2, done=done)] * 4)
    ticked = sum(CutTick.objects.filter(run=run).values_list("sticks", flat=True))
    return {"said": said, "ticked": ticked, "there": dict(pieces_of(tube))[feet(20)]}


def changed_while_sent(shop: Shop) -> Outcome:
    """What stood in the order when it went out is what stands there afterwards."""
    item, sent = bolts(shop, 1), []
    order = ordered(shop, item)

    def change() -> None:
        for many in range(11, 41):
            ordering.put_line(order=order, asked=ordering.Asked(item, Decimal(many)), by=None)

    def send() -> None:
        ordering.send(order=order, on=AT.date(), by=None)
        sent.append(order.lines.get().quantity)

    said = together(change, send)
    return {"said": said, "changed": order.lines.get().quantity != sent[0]}


def list_written_twice(shop: Shop) -> Outcome:
    item = make_item(shop, home=make_place(shop))
    keeper = make_member(shop, f"signe{item.pk}", "storekeeper")
    rows: list[list[Any]] = [["When", "Kind", "Item", "Quantity", "To", "From whom"]]
    rows += [["2026-01-10", "goods in", item.name, 1, item.home.name, "Reed & Sons"]] * 20
    upload = keep_upload(
        shop=shop, kind="movements", name="a.csv", data=write_csv(rows), by=keeper,
        at=timezone.now(),
    )  # fmt: skip
    seen = preview_of(upload).plan.print
    said = together(*[lambda: commit(upload, seen=seen, by=keeper, at=timezone.now())] * 3)
    return {"said": said, "there": int(balance_of(item))}


def reading_corrected_twice(shop: Shop) -> Outcome:
    straw = make_item(shop, kind=Item.Kind.FILL, home=make_place(shop))
    reading = take_reading(
        shop=shop, item=straw, place=straw.home, by=None, at=AT, temperature=Decimal(90)
    )
    said = together(*[lambda: correct_reading(reading, reason="misread", by=None)] * 3)
    return {"said": said, "corrections": Reading.objects.filter(corrects=reading).count()}


# What may refuse one of them; anything else is a fault of ours.
REFUSALS = {
    each.__name__
    for each in (
        CutRefused, DeliveryRefused, ListGone, ReadingRefused, StocktakeRefused,
        *ordering.OrderRefused.__subclasses__(), *DeliveryRefused.__subclasses__(),
    )
}  # fmt: skip


def refusals_in(outcome: Outcome) -> Iterator[str]:
    """Every name of a refusal that was said in any round."""
    for scene, rounds in outcome.items():
        if scene != "faults":
            yield from (said for each in rounds for said in each["said"] if said)
