"""Several tablets posting at once, in a process of its own on a database of its own.

First an evening: four tablets send the same twenty tallies and twenty of their own, 100
moves wanted and 60 there. Then each thing that two people may do at one moment: the same
key, opposite moves, a count while others post, taking one entry back.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys

from workshops.environment import BASE

RUN = """
import json, threading, uuid
import django
django.setup()
from decimal import Decimal
from django.core.management import call_command
from django.db import connection
from inventory.ledger import actions
from inventory.ledger.checking import faults
from inventory.ledger.models import Entry, Line
from tests.factories import make_item, make_place, make_shop
from tests.inventory.ledger.conftest import AT

call_command("migrate", verbosity=0)
shop = make_shop()
away = make_place(shop)
told = {}

def bolts(many):
    item = make_item(shop)
    actions.goods_in(
        shop=shop, item=item, quantity=Decimal(many), place=item.home, source="Reed & Sons",
        is_donated=False, by=None, at=AT)
    return item, {"shop": shop, "item": item, "by": None, "at": AT}

def at(item, place):
    row = item.balances.filter(place=place).first()
    return int(row.quantity) if row else 0

def together(*works):
    start, gone_wrong = threading.Barrier(len(works)), []
    def run(work):
        start.wait()
        try:
            work()
        except Exception as error:
            gone_wrong.append(repr(error))
        finally:
            connection.close()
    threads = [threading.Thread(target=run, args=(work,)) for work in works]
    [thread.start() for thread in threads]
    [thread.join() for thread in threads]
    assert not gone_wrong, gone_wrong

def evening():
    bolt, given = bolts(60)
    keys, refused = [uuid.uuid4() for _ in range(20)], []
    def tablet():
        for key in keys:
            for each in (key, uuid.uuid4()):
                try:
                    actions.move(quantity=Decimal(1), source=bolt.home, target=away,
                                 client_key=each, **given)
                except actions.NotEnough:
                    refused.append(each)
    together(*[tablet] * 4)
    return {
        "moved": Entry.objects.filter(kind="moved").count(),
        "refused_own": len([key for key in refused if key not in keys]),
        "refused_shared": len(set(refused) & set(keys)),
        "away": at(bolt, away), "left": at(bolt, bolt.home),
    }

def one_key():
    bolt, given = bolts(10)
    key, written = uuid.uuid4(), []
    def send():
        written.append(actions.goods_in(
            quantity=Decimal(5), place=bolt.home, source="Reed & Sons", is_donated=False,
            client_key=key, **given).pk)
    together(*[send] * 6)
    return {"entries": len(set(written)), "there": at(bolt, bolt.home),
            "sources": Entry.objects.filter(goods_in__isnull=False, lines__item=bolt)
                       .distinct().count()}

def opposite_moves():
    bolt, given = bolts(20)
    actions.move(quantity=Decimal(10), source=bolt.home, target=away, **given)
    def carry(source, target):
        for _ in range(25):
            try:
                actions.move(quantity=Decimal(3), source=source, target=target, **given)
            except actions.NotEnough:
                pass
    together(lambda: carry(bolt.home, away), lambda: carry(away, bolt.home))
    return {"all": at(bolt, bolt.home) + at(bolt, away)}

def count_while_posting():
    bolt, given = bolts(40)
    def post():
        for _ in range(20):
            actions.scrap(quantity=Decimal(1), place=bolt.home, reason="bent", **given)
    def count():
        for _ in range(10):
            actions.count(shop=shop, place=bolt.home, by=None, at=AT,
                          counted=[actions.Counted(bolt, 0, "good", Decimal(40))])
    together(post, count)
    # Whatever the order was, the difference posted is what makes the sum right.
    lines = Line.objects.filter(item=bolt, account="shelf").values_list("quantity", flat=True)
    return {"scrapped": Entry.objects.filter(kind="scrap", lines__item=bolt).distinct().count(),
            "out": at(bolt, bolt.home) - int(sum(lines))}

def taken_back():
    bolt, given = bolts(7)
    entry = Entry.objects.filter(lines__item=bolt).first()
    refused = []
    def take_back():
        try:
            actions.correct(entry, reason="wrong", by=None, at=AT)
        except actions.AlreadyCorrected:
            refused.append(1)
    together(*[take_back] * 4)
    return {"corrections": Entry.objects.filter(corrects=entry).count(), "refused": len(refused),
            "left": at(bolt, bolt.home)}

for scene in (evening, one_key, opposite_moves, count_while_posting, taken_back):
    told[scene.__name__] = scene()
told["faults"] = [str(fault) for fault in faults(shop)]
print(json.dumps(told))
"""


def outcome_of(database_url: str) -> dict[str, dict[str, int]]:
    """What each scene left behind on that database, and what is wrong in the book."""
    environment = os.environ | {
        "DATABASE_URL": database_url,
        "DJANGO_SETTINGS_MODULE": "workshops.settings",
        "PYTHONPATH": str(BASE),
    }
    ran = subprocess.run(
        [sys.executable, "-c", RUN],
        capture_output=True, text=True, env=environment, cwd=BASE, timeout=120, check=False,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    return dict(json.loads(ran.stdout))
