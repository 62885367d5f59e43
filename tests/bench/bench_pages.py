"""How long the pages of the demo take on the server, and how many queries they ask."""

from __future__ import annotations

import statistics
import time
from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection
from django.test import Client, override_settings
from django.test.utils import CaptureQueriesContext, setup_databases, teardown_databases
from django.utils import timezone

from workshops.access.models import Membership
from workshops.home.demo.load import load_demo
from workshops.nights.actions import plan_night
from workshops.nights.queries import next_night

TIMES = 15
TARGET = "15 queries, 100 ms"


def run() -> list[tuple[str, str, str]]:
    """Medians over fifteen requests, the first not counted."""
    with _database():
        shop = load_demo(today=timezone.localdate())
        night = next_night(shop, timezone.now())
        if night is None:
            raise RuntimeError("the demo has no night to come")
        plan_night(night=night, by=None)
        client = Client()
        client.force_login(Membership.objects.filter(shop=shop, role="coordinator")[0].user)
        pages = {
            "home": "", "night": f"nights/{night.date}/", "stock": "stock/",
            "people": "people/", "sign-offs": "people/sign-offs/", "winter": "winter/",
        }  # fmt: skip
        return [(name, _measured(client, f"/{shop.slug}/{path}"), TARGET)
                for name, path in pages.items()]  # fmt: skip


def _measured(client: Client, url: str) -> str:
    with CaptureQueriesContext(connection) as asked:
        status = client.get(url).status_code
    count = len(asked)  # counted now: the next request empties the log
    seconds = []
    for _ in range(TIMES):
        began = time.perf_counter()
        client.get(url)
        seconds.append(time.perf_counter() - began)
    told = f"{count} queries, {statistics.median(seconds) * 1000:.0f} ms"
    return told if status == 200 else f"{told} (answered {status})"


@contextmanager
def _database() -> Iterator[None]:
    """A database in memory: what the club has is neither read nor touched."""
    kept = setup_databases(verbosity=0, interactive=False)
    try:
        with override_settings(ALLOWED_HOSTS=["testserver"]):
            yield
    finally:
        teardown_databases(kept, verbosity=0)
