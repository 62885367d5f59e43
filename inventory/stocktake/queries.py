"""What the pages and the printed sheets of a stocktake need."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from django.db.models import Count, Prefetch, Q, QuerySet

from inventory.places.models import Place, Shop
from inventory.stocktake.book_then import book_then, spot_of
from inventory.stocktake.comparing import Compared, Seen, compare
from inventory.stocktake.late import Late, late_of
from inventory.stocktake.models import CountLine, CountSheet, Look, Stocktake, Turn
from inventory.stocktake.progress import Progress, State

__all__ = [
    "Compared",
    "Late",
    "Progress",
    "Seen",
    "State",
    "compared",
    "late_of",
    "line_of",
    "lines_for",
    "places_under_count",
    "places_with_stock",
    "progress_of",
    "sheet_of",
    "spot_of",
    "stocktake_of",
    "stocktakes_of",
]


def stocktakes_of(shop: Shop) -> QuerySet[Stocktake]:
    """The shop's stocktakes, newest first, with how many sheets and how many posted. 1 query."""
    return (
        Stocktake.objects.filter(shop=shop)
        .select_related("opened_by")
        .annotate(
            sheet_count=Count("sheets"),
            posted_count=Count("sheets", filter=Q(sheets__posted_at__isnull=False)),
        )
        .order_by("-opened_at", "-pk")
    )


def stocktake_of(shop: Shop, pk: int) -> Stocktake | None:
    """One stocktake; ``None`` in another shop. 1 query."""
    rows = Stocktake.objects.filter(shop=shop).select_related("shop", "opened_by", "closed_by")
    return rows.filter(pk=pk).first()


def sheet_of(shop: Shop, pk: int) -> CountSheet | None:
    """One sheet with its place and looks; ``None`` in another shop. 2 queries."""
    rows = CountSheet.objects.filter(stocktake__shop=shop).select_related(
        "stocktake__shop", "place__room", "alone_by", "book_opened_by", "posted_by"
    )
    return rows.prefetch_related(_looks()).filter(pk=pk).first()


def line_of(shop: Shop, pk: int) -> CountLine | None:
    """One line with sheet, place and item; ``None`` in another shop. 1 query."""
    rows = CountLine.objects.filter(sheet__stocktake__shop=shop)
    return (
        rows.select_related("sheet__stocktake__shop", "sheet__place", "item__shop", "entry")
        .filter(pk=pk)
        .first()
    )


def lines_of(sheets: Sequence[CountSheet]) -> QuerySet[CountLine]:
    """The lines of the sheets by item, longest first. 1 query; empty for an empty place."""
    rows = CountLine.objects.filter(sheet__in=sheets)
    return rows.select_related("item__shop", "entry__correction")


def lines_for(sheet: CountSheet, turn: int) -> list[CountLine]:
    """What a counter is asked to look at, by item, longest first.

    Without the other's finds; the third look is at what is owed only. 1 query, 3 for the third.
    """
    if turn == Turn.THIRD:
        return [row.line for row in compared(sheet) if row.owes_a_look or row.third]
    hidden = Turn.SECOND if turn == Turn.FIRST else Turn.FIRST
    return [line for line in lines_of([sheet]) if line.found_in != hidden or line.seen(turn)]


def compared(sheet: CountSheet) -> list[Compared]:
    """Every line with its counts and what the book said at their moments. 3 queries."""
    lines = list(lines_of([sheet]))
    return compare(lines, sheet.place, book_then([sheet.place], lines))


def progress_of(stocktake: Stocktake) -> list[Progress]:
    """Each sheet of a stocktake by place, and how far it has come. 5 queries; none is empty."""
    sheets = list(
        stocktake.sheets.select_related("place__room", "posted_by", "alone_by")
        .prefetch_related(_looks())
        .order_by("place__name")
    )
    by_sheet: dict[int, list[CountLine]] = defaultdict(list)
    lines = list(lines_of(sheets))
    for line in lines:
        by_sheet[line.sheet_id].append(line)
    # What was posted is read as it was written; only counts still open need the book.
    posted = {sheet.pk for sheet in sheets if sheet.posted_at}
    open_lines = [line for line in lines if line.sheet_id not in posted]
    book = book_then([sheet.place for sheet in sheets], open_lines)
    return [
        Progress(sheet, tuple(compare(by_sheet[sheet.pk], sheet.place, book))) for sheet in sheets
    ]


def places_under_count(shop: Shop) -> set[int]:
    """Places on a sheet of an open stocktake that is not posted yet. 1 query."""
    open_ones = CountSheet.objects.filter(
        stocktake__shop=shop, stocktake__closed_at__isnull=True, posted_at__isnull=True
    )
    return set(open_ones.values_list("place", flat=True))


def places_with_stock(shop: Shop) -> QuerySet[Place]:
    """Places where something lies by the book, with how many kinds of thing. 1 query."""
    things = Count("balances__item", filter=Q(balances__quantity__gt=0), distinct=True)
    return Place.objects.filter(shop=shop).annotate(things=things).filter(things__gt=0)


def _looks() -> Prefetch[str]:
    return Prefetch("looks", Look.objects.select_related("by").order_by("turn"))
