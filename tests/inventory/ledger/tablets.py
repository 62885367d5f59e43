"""Four tablets posting at once, in a process of their own on a database of their own.

Each sends the same twenty tallies and twenty of its own: 100 moves wanted, 60 there.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys

from workshops.environment import BASE

RUN = """
import json, sys, threading, uuid
import django
django.setup()
from decimal import Decimal
from django.core.management import call_command
from django.db import connection
from inventory.ledger import actions
from inventory.ledger.models import Entry
from inventory.ledger.queries import balance_of, check
from tests.factories import make_item, make_place, make_shop
from tests.inventory.ledger.conftest import AT

call_command("migrate", verbosity=0)
shop = make_shop()
bolt = make_item(shop)
away = make_place(shop)
given = {"shop": shop, "item": bolt, "by": None, "at": AT}
actions.goods_in(
    quantity=Decimal(60), place=bolt.home, source="Reed & Sons", is_donated=False, **given)
keys = [uuid.uuid4() for _ in range(20)]
refused = []
start = threading.Barrier(4)

def tablet():
    start.wait()
    for key in keys:  # every tablet sends the same twenty tallies, and one of its own each time
        for each in (key, uuid.uuid4()):
            try:
                actions.move(
                    quantity=Decimal(1), source=bolt.home, target=away, client_key=each, **given)
            except actions.NotEnough:
                refused.append(each)
    connection.close()

threads = [threading.Thread(target=tablet) for _ in range(4)]
[thread.start() for thread in threads]
[thread.join() for thread in threads]
print(json.dumps({
    "moved": Entry.objects.filter(kind="moved").count(),
    "refused_own": len([key for key in refused if key not in keys]),
    "refused_shared": len(set(refused) & set(keys)),
    "away": int(away.balances.get().quantity),
    "left": int(bolt.balances.get(place=bolt.home).quantity),
    "differences": len(check(shop)),
}))
"""


def outcome_of(database_url: str) -> dict[str, int]:
    """What was moved, refused and left over on that database."""
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
