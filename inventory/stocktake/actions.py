"""Opening a stocktake, counting, looking again, posting; each all of it or nothing.

Every action may raise ``StocktakeRefused`` with a sentence for the person who counts. Once
a sheet is posted no action changes its counts: what is found out later is a new entry.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from django.db import transaction

from inventory.ledger.actions import Counted, lock_book
from inventory.ledger.models import Balance, Condition
from inventory.materials.models import Item
from inventory.places.models import Place, Shop
from inventory.stocktake.looking import Counter, finish_look, put_count
from inventory.stocktake.models import CountLine, CountSheet, Stocktake
from inventory.stocktake.opened import Who, still_open
from inventory.stocktake.posting import post_sheet, settle_late
from inventory.stocktake.progress import Progress
from inventory.stocktake.queries import places_under_count
from inventory.stocktake.refusals import SamePerson, StocktakeRefused

__all__ = [
    "Counted",
    "Counter",
    "SamePerson",
    "StocktakeRefused",
    "close_stocktake",
    "doubt",
    "explain",
    "finish_look",
    "let_count_alone",
    "open_book",
    "open_stocktake",
    "post_sheet",
    "put_count",
    "settle_late",
]


@transaction.atomic
def open_stocktake(
    *,
    shop: Shop,
    name: str,
    places: Sequence[Place],
    by: Who,
    at: datetime,
    note: str = "",
    cut_off: Sequence[Mapping[str, str]] = (),
) -> Stocktake:
    """Begin a stocktake: a sheet for each place, with what should lie there.

    Raises
    ------
    StocktakeRefused
        Without a name or a place, or when a place is being counted already.
    """
    lock_book(shop)
    if not name.strip():
        raise StocktakeRefused("Give the stocktake a name, such as “Before the first night”.")
    if not places:
        raise StocktakeRefused("Choose at least one place to count.")
    busy = places_under_count(shop)
    for place in places:
        if place.shop_id != shop.pk:
            raise StocktakeRefused(f"{place} belongs to another shop.")
        if place.pk in busy:
            raise StocktakeRefused(f"{place} is being counted already: post that count first.")
    stocktake = Stocktake.objects.create(
        shop=shop, name=name.strip(), note=note, cut_off=list(cut_off), opened_at=at,
        opened_by_id=by.pk if by else None,
    )  # fmt: skip
    sheets = {
        place.pk: CountSheet.objects.create(stocktake=stocktake, place=place) for place in places
    }
    CountLine.objects.bulk_create(_expected_lines(sheets))
    return stocktake


def _expected_lines(sheets: Mapping[int, CountSheet]) -> list[CountLine]:
    """What should lie in the places: what the book has there, and what is kept there."""
    lines = [
        CountLine(
            sheet=sheets[row.place_id], item_id=row.item_id, condition=row.condition,
            length_um=row.length_um,
        )
        for row in Balance.objects.filter(place__in=sheets, quantity__gt=0)
    ]  # fmt: skip
    there = {(line.sheet.place_id, line.item_id) for line in lines if line.condition == "good"}
    # An empty box on the shelf is asked for too: that the book has none there may be wrong.
    homes = Item.objects.filter(home__in=sheets).exclude(kind=Item.Kind.METAL)
    for item, home in homes.values_list("pk", "home"):
        if home is not None and (home, item) not in there:
            lines.append(CountLine(sheet=sheets[home], item_id=item, condition=Condition.GOOD))
    return lines


@transaction.atomic
def let_count_alone(*, sheet: CountSheet, reason: str, by: Who) -> None:
    """Let one person count a place twice; the reason is shown with the result.

    Raises
    ------
    StocktakeRefused
        Without a reason, or when the sheet is posted.
    """
    sheet = still_open(sheet)
    if not reason.strip():
        raise StocktakeRefused("Say why one person counts twice: it is shown with the result.")
    sheet.alone_reason, sheet.alone_by_id = reason.strip(), by.pk if by else None
    sheet.save(update_fields=["alone_reason", "alone_by"])


@transaction.atomic
def open_book(*, sheet: CountSheet, by: Who, at: datetime) -> None:
    """Show the book's figures of a sheet, after both counts; once opened it stays open.

    Raises
    ------
    StocktakeRefused
        Before both counts are done.
    """
    sheet = still_open(sheet)
    if not Progress(sheet, ()).is_counted_twice:
        raise StocktakeRefused("The book stays shut until both counts are done.")
    if sheet.book_opened_at is None:
        sheet.book_opened_at, sheet.book_opened_by_id = at, by.pk if by else None
        sheet.save(update_fields=["book_opened_at", "book_opened_by"])


@transaction.atomic
def doubt(*, line: CountLine) -> None:
    """Ask for a third look at a line, whatever was counted.

    Raises
    ------
    StocktakeRefused
        Before both counts are done, or when the sheet is posted.
    """
    sheet = still_open(line.sheet)
    if not Progress(sheet, ()).is_counted_twice:
        raise StocktakeRefused("A third look comes after both counts.")
    CountLine.objects.filter(pk=line.pk).update(is_doubted=True)


@transaction.atomic
def explain(*, sheet: CountSheet, reasons: Mapping[int, tuple[str, str]]) -> None:
    """Write down where the differences come from: line -> (reason, words).

    Raises
    ------
    StocktakeRefused
        When the sheet is posted, or “something else” is left without words.
    """
    sheet = still_open(sheet)
    for line in sheet.lines.filter(pk__in=reasons).select_related("item"):
        line.reason, line.words = reasons[line.pk]
        if line.reason == CountLine.Reason.OTHER and not line.words.strip():
            raise StocktakeRefused(f"{line.item}: say in words what the something else is.")
        line.save(update_fields=["reason", "words"])


@transaction.atomic
def close_stocktake(*, stocktake: Stocktake, by: Who, at: datetime) -> None:
    """End a stocktake; what is not posted leaves the book as it is. Ending twice is no harm."""
    Stocktake.objects.filter(pk=stocktake.pk, closed_at=None).update(
        closed_at=at, closed_by=by.pk if by else None
    )
