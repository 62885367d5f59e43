"""How long lists take to come in and go out: 5,000 rows looked at, 100,000 lines sent."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from decimal import Decimal
from io import BytesIO

from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from inventory.ledger.actions import NewLine, Posting, post_many
from inventory.ledger.models import Entry, Line
from inventory.materials.models import Item
from inventory.measures.lengths import MICROMETRES_PER_FOOT
from inventory.places.models import Place, Shop
from tests.bench.bench_pages import _database
from tests.factories import make_member, make_shop
from workshops.access.models import Membership, User
from workshops.common.sheets import Cell, csv_lines, write_csv, write_xlsx
from workshops.common.uploads import keep_upload
from workshops.stock.exchange.commit import commit
from workshops.stock.exchange.kinds import KINDS
from workshops.stock.exchange.outgoing import headings, rows_out
from workshops.stock.exchange.preview import Preview, preview_of

ROWS = 5_000
ITEMS = 2_000
LINES = 100_000
PREVIEW, WRITING = "5 s", ""

Rows = list[Sequence[Cell]]


def run() -> list[tuple[str, str, str]]:
    """Each list looked at as CSV and XLSX, written, and taken out again."""
    with _database():
        shop = make_shop()
        keeper = make_member(shop, "signe", Membership.Role.STOREKEEPER)
        places = [Place.objects.create(shop=shop, name=f"Rack {n}") for n in range(40)]
        items = _items(shop, places)
        found = [row for kind in KINDS for row in _coming_in(shop, keeper, kind)]
        _fill_the_book(shop, items, places)
        return found + [_again(shop, keeper, kind) for kind in KINDS] + _going_out(shop)


def _items(shop: Shop, places: list[Place]) -> list[Item]:
    Item.objects.bulk_create(
        Item(shop=shop, slug=f"thing-{n}", name=f"Thing {n}", home=places[n % 40],
             kind=Item.Kind.METAL if n % 4 == 0 else Item.Kind.SMALL,
             shape=Item.Shape.ROUND_ROD if n % 4 == 0 else "")
        for n in range(ITEMS)
    )  # fmt: skip
    return list(Item.objects.filter(shop=shop).select_related("shop"))


def _coming_in(shop: Shop, keeper: User, kind: str) -> list[tuple[str, str, str]]:
    rows = {"items": _item_rows, "stock": _stock_rows, "movements": _movement_rows}[kind](shop)
    found = []
    for form, data in (("CSV", write_csv(rows)), ("XLSX", _xlsx(rows))):
        upload = keep_upload(
            shop=shop, kind=kind, name=f"{kind}.{form}", data=data, by=keeper, at=timezone.now(),
            choices={"as": "opening"},
        )  # fmt: skip
        told, preview = _timed(lambda upload=upload: preview_of(upload))
        found.append((f"{len(rows) - 1} {kind} from {form}: {_words(preview)}", told, PREVIEW))
    began = time.perf_counter()
    done = commit(upload, seen=preview.plan.print, by=keeper, at=timezone.now())
    seconds = time.perf_counter() - began
    assert done.is_written, f"{kind} were not written"
    return [*found, (f"  ... written: {len(rows) - 1} {kind}", f"{seconds:.1f} s", WRITING)]


def _again(shop: Shop, keeper: User, kind: str) -> tuple[str, str, str]:
    """The first rows of what went out, coming in again."""
    rows = [row for _, row in zip(range(ROWS + 1), rows_out(kind, shop), strict=False)]
    upload = keep_upload(
        shop=shop, kind=kind, name="again.csv", data=write_csv(rows), by=keeper, at=timezone.now()
    )
    told, preview = _timed(lambda: preview_of(upload))
    return f"{len(rows) - 1} {kind} that went out, in again: {_words(preview)}", told, PREVIEW


def _going_out(shop: Shop) -> list[tuple[str, str, str]]:
    count = Line.objects.filter(entry__shop=shop).count()
    began = time.perf_counter()
    size = sum(len(line) for line in csv_lines(rows_out("movements", shop)))
    csv_seconds = time.perf_counter() - began
    began = time.perf_counter()
    _xlsx(list(rows_out("movements", shop)))
    xlsx_seconds = time.perf_counter() - began
    return [
        (f"{count} lines out as CSV, {size // 1_000_000} MB", f"{csv_seconds:.1f} s", ""),
        (f"{count} lines out as XLSX", f"{xlsx_seconds:.1f} s", ""),
    ]


def _timed(look: Callable[[], Preview]) -> tuple[str, Preview]:
    with CaptureQueriesContext(connection) as asked:
        began, worked = time.perf_counter(), time.process_time()
        preview = look()
        seconds, worked = time.perf_counter() - began, time.process_time() - worked
    # Both: on a machine with other work to do they are far apart.
    return f"{seconds:.2f} s ({worked:.2f} s of work), {len(asked)} queries", preview


def _words(preview: Preview) -> str:
    return ", ".join(f"{count} {word}" for _, word, count in preview.told)


def _xlsx(rows: Rows) -> bytes:
    file = BytesIO()
    write_xlsx(rows, title="List", file=file)
    return file.getvalue()


def _row(heading: Sequence[Cell], **values: Cell) -> list[Cell]:
    return [values.get(str(each).lower().replace(" ", "_"), "") for each in heading]


def _item_rows(shop: Shop) -> Rows:
    """A third as they are, a third changed, a third new."""
    heading = headings(KINDS["items"].columns(shop))
    rows: Rows = [heading]
    for n in range(ROWS):
        metal = n % 4 == 0 and n < ITEMS
        rows.append(_row(
            heading, name=f"Thing {n}", kind="metal" if metal else "small",
            section="round rod" if metal else "", supplier="Reed & Sons" if n % 2 else "",
            kept_at=f"Rack {n % 40}",
        ))  # fmt: skip
    return rows


def _stock_rows(shop: Shop) -> Rows:
    heading = headings(KINDS["stock"].columns(shop))
    return [heading, *(
        _row(heading, place=f"Rack {n % 40}", item=f"Thing {n % ITEMS}",
             length=f"{n // ITEMS + 1} ft" if n % 4 == 0 else "", on_hand=500)
        for n in range(ROWS) if n < ITEMS or n % 4 == 0 or (n % 40) != (n % ITEMS) % 40
    )]  # fmt: skip


def _movement_rows(shop: Shop) -> Rows:
    heading = headings(KINDS["movements"].columns(shop))
    kinds = [("used", {}), ("moved", {"to": "Rack 39"}), ("scrap", {"why": "bent"}),
             ("goods in", {"from_whom": "Reed & Sons"})]  # fmt: skip
    rows: Rows = [heading]
    for n in range(ROWS):
        kind, more = kinds[n % 4 if n % 40 != 39 else 0]
        spot = "to" if kind == "goods in" else "from"
        rows.append(_row(
            heading, when=f"2025-{n % 12 + 1:02}-{n % 28 + 1:02}", kind=kind, quantity=1,
            item=f"Thing {n % ITEMS}", length="1 ft" if n % 4 == 0 else "",
            **({spot: f"Rack {n % 40}"} | more),
        ))  # fmt: skip
    return rows


def _fill_the_book(shop: Shop, items: list[Item], places: list[Place]) -> None:
    lines = Line.objects.filter(entry__shop=shop).count()
    count = (LINES - lines) // 2
    at = timezone.now()
    for start in range(0, count, 5_000):
        post_many(
            shop=shop, by=None,
            postings=[
                Posting(kind=Entry.Kind.GOODS_IN, at=at, lines=_brought(items[n % ITEMS], places))
                for n in range(start, min(start + 5_000, count))
            ],
        )  # fmt: skip


def _brought(item: Item, places: list[Place]) -> list[NewLine]:
    length = MICROMETRES_PER_FOOT if item.is_by_length else 0
    place = places[item.pk % 40]
    return [
        NewLine(item, Line.Account.SHELF, Decimal(1), place, length_um=length),
        NewLine(item, Line.Account.OUTSIDE, Decimal(-1), length_um=length),
    ]
