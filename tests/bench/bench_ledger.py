"""How fast the book is written and read when it is long: a million lines, 2,000 items.

Measured on a database file of its own, as a club has it: in memory, committing costs nothing.
"""

from __future__ import annotations

import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from io import StringIO
from pathlib import Path

from django.core.management import call_command
from django.db import connection
from django.test import Client, override_settings
from django.test.utils import CaptureQueriesContext, setup_databases, teardown_databases

from inventory.ledger.models import Entry
from inventory.materials.models import Item
from inventory.places.models import Shop
from tests.bench.long_book import write_long_book
from tests.bench.postings import COUNT, postings_in_one, postings_one_by_one
from tests.factories import make_member
from workshops.access.models import Membership

LINES, ITEMS = 1_000_000, 2_000
TIMES = 7
A_SECOND = "1,000 a second"
Row = tuple[str, str, str]


def run() -> list[Row]:
    """Postings into a fresh book and a long one; the check; the pages."""
    with _database():
        rows = _posted("in a fresh book", write_long_book(lines=1_000, items=60))
    with _database():
        seeded, shop = _timed(lambda: write_long_book(lines=LINES, items=ITEMS))
        rows += [("writing the book itself, straight into the tables", f"{seeded:.0f} s", "")]
        rows += _posted("in the long book", shop)
        seconds, _ = _timed(lambda: call_command("check_ledger", stdout=StringIO()))
        rows += [(f"check_ledger, {LINES:,} lines", f"{seconds:.1f} s", "20 s")]
        rows += list(_pages(shop))
    return rows


def _posted(where: str, shop: Shop) -> list[Row]:
    return [
        (f"post() {where}, 4 lines, a commit each", _rate(postings_one_by_one, shop), A_SECOND),
        (f"post_many() {where}, one commit", _rate(postings_in_one, shop), ""),
    ]


def _rate(work: Callable[[Shop], float], shop: Shop) -> str:
    """By the clock, and by the processor: others may be using the machine at the same time."""
    began = time.process_time()
    rate = work(shop)
    processor = COUNT / (time.process_time() - began)
    return f"{rate:,.0f} a second ({processor:,.0f} of processor time)"


def _pages(shop: Shop) -> Iterator[Row]:
    client = Client()
    client.force_login(make_member(shop, "signe", Membership.Role.STOREKEEPER))
    thing = Item.objects.filter(shop=shop, name="Thing 0007").get()
    entry, place = Entry.objects.latest("pk").pk, thing.home_id
    pages = {
        "stock": ("", "12 queries, 150 ms"), "stock, found by name": ("?q=thing+00", ""),
        "movements": ("movements/", "150 ms"),
        "movements, deep in the book": (f"movements/?before={LINES // 2}", "150 ms"),
        "movements of a place": (f"movements/?place={place}", "150 ms"),
        "movements of a night without any": ("movements/?night=2020-01-01", "150 ms"),
        "an entry": (f"movements/{entry}/", "150 ms"),
        "an item": (f"items/{thing.slug}/", "150 ms"),
        "the busiest item": (f"items/{Item.objects.get(name='Bolts').slug}/", "150 ms"),
    }  # fmt: skip
    for name, (path, target) in pages.items():
        yield f"page: {name}", _measured(client, f"/{shop.slug}/stock/{path}"), target


def _measured(client: Client, url: str) -> str:
    with CaptureQueriesContext(connection) as asked:
        status = client.get(url).status_code
    count = len(asked)  # counted now: the next request empties the log
    seconds = [_timed(lambda: client.get(url))[0] for _ in range(TIMES)]
    told = f"{count} queries, {statistics.median(seconds) * 1000:.0f} ms"
    return told if status == 200 else f"{told} (answered {status})"


def _timed(work: Callable[[], object]) -> tuple[float, object]:
    began = time.perf_counter()
    result = work()
    return time.perf_counter() - began, result


@contextmanager
def _database() -> Iterator[None]:
    """A database of its own: what the club has is neither read nor touched."""
    with tempfile.TemporaryDirectory() as folder:
        if connection.vendor == "sqlite":
            connection.settings_dict["TEST"]["NAME"] = str(Path(folder) / "book.sqlite3")
        kept = setup_databases(verbosity=0, interactive=False)
        try:
            with override_settings(ALLOWED_HOSTS=["testserver"]):
                yield
        finally:
            teardown_databases(kept, verbosity=0)
