"""Two browsers that write one list at the same moment, on a real SQLite file."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

from workshops.environment import BASE

RUN = """
import json, threading
import django
django.setup()
from decimal import Decimal
from django.core.management import call_command
from django.db import connection
from django.utils import timezone
from inventory.ledger.models import Entry
from inventory.ledger.queries import balance_of, check
from tests.factories import make_item, make_member, make_shop
from workshops.common.sheets import write_csv
from workshops.common.uploads import keep_upload
from workshops.stock.exchange.commit import ListGone, commit
from workshops.stock.exchange.preview import preview_of

call_command("migrate", verbosity=0)
shop = make_shop()
bolt = make_item(shop, name="Bolt")
keeper = make_member(shop, "signe", "storekeeper")
rows = [["When", "Kind", "Item", "Quantity", "To", "From whom"]]
rows += [["2026-01-10", "goods in", "Bolt", 1, bolt.home.name, "Reed & Sons"]] * 50
upload = keep_upload(shop=shop, kind="movements", name="a.csv", data=write_csv(rows), by=keeper,
                     at=timezone.now())
seen = preview_of(upload).plan.print
outcomes = []
start = threading.Barrier(3)

def press():
    start.wait()
    try:
        outcomes.append(commit(upload, seen=seen, by=keeper, at=timezone.now()).is_written)
    except ListGone:
        outcomes.append("gone")
    connection.close()

threads = [threading.Thread(target=press) for _ in range(3)]
[thread.start() for thread in threads]
[thread.join() for thread in threads]
print(json.dumps({"outcomes": sorted(map(str, outcomes)), "bolts": int(balance_of(bolt)),
                  "entries": Entry.objects.count(), "differences": len(check(shop))}))
"""


def test_of_three_who_press_at_once_one_writes_and_the_others_find_it_gone(tmp_path: Path) -> None:
    environment = os.environ | {
        "DATABASE_URL": f"sqlite://{tmp_path / 'book.sqlite3'}",
        "DJANGO_SETTINGS_MODULE": "workshops.settings",
        "PYTHONPATH": str(BASE),
    }
    ran = subprocess.run(
        [sys.executable, "-c", RUN],
        capture_output=True, text=True, env=environment, cwd=BASE, timeout=120, check=False,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    told = json.loads(ran.stdout)
    assert told["outcomes"] == ["True", "gone", "gone"]
    assert (told["bolts"], told["entries"], told["differences"]) == (50, 50, 0)
