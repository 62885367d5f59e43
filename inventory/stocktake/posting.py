"""The differences of a count, written in the book at the moments of the count."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from uuid import UUID, uuid5

from django.db import transaction

from inventory.ledger import actions as ledger
from inventory.ledger.models import Entry, Line
from inventory.stocktake.book_then import book_then
from inventory.stocktake.comparing import Compared, compare
from inventory.stocktake.late import late_of
from inventory.stocktake.models import CountLine, CountSheet, Settling, Stocktake
from inventory.stocktake.opened import Who, still_open
from inventory.stocktake.refusals import StocktakeRefused

# Makes the keys under which differences are written: sent twice, each is written once.
NAMESPACE = UUID("6c2b2a0e-0f0c-4f0e-9a55-5b0d3c1e7a41")
LATE = "typed in after the count, which had it already"


@transaction.atomic
def post_sheet(*, sheet: CountSheet, by: Who, at: datetime) -> list[Entry]:
    """Write the differences of a sheet and close it; an entry a line, with its reason.

    Posting again writes nothing and gives back the same entries. The stocktake closes with
    its last sheet.

    Raises
    ------
    StocktakeRefused
        Before the book is opened, while a third look is owed, or when the book has since
        given out more than was counted.
    """
    ledger.lock_book(sheet.stocktake.shop)
    if CountSheet.objects.filter(pk=sheet.pk, posted_at__isnull=False).exists():
        return list(Entry.objects.filter(count_line__sheet=sheet).order_by("pk"))
    sheet = still_open(sheet)
    rows = _ready(sheet)
    entries = [entry for row in rows if (entry := _post_line(row, by))]
    sheet.posted_at, sheet.posted_by_id = at, by.pk if by else None
    sheet.save(update_fields=["posted_at", "posted_by"])
    _close_with_the_last(sheet.stocktake, by, at)
    return entries


@transaction.atomic
def settle_late(*, stocktake: Stocktake, by: Who) -> list[Entry]:
    """Make every posted count true again after something was typed in late.

    Writes nothing when nothing is out.

    Raises
    ------
    StocktakeRefused
        When more has been used since than the count leaves.
    """
    ledger.lock_book(stocktake.shop)
    entries = []
    for late in late_of(stocktake):
        number = late.line.settlings.count()
        key = uuid5(NAMESPACE, f"line {late.line.pk} settling {number}")
        entry = _write(late.line, late.off, reason=LATE, by=by, key=key)
        Settling.objects.create(line=late.line, entry=entry)
        entries.append(entry)
    return entries


def _ready(sheet: CountSheet) -> list[Compared]:
    if sheet.book_opened_at is None:
        raise StocktakeRefused("The coordinator or the storekeeper opens the book first.")
    lines = list(sheet.lines.select_related("item__shop", "sheet__place", "sheet__stocktake__shop"))
    rows = compare(lines, sheet.place, book_then([sheet.place], lines))
    owed = [row.line for row in rows if row.owes_a_look]
    if owed:
        things = ", ".join(sorted({line.item.name for line in owed})[:3])
        raise StocktakeRefused(f"A third look is owed at {sheet.place}: {things}.")
    return rows


def _post_line(row: Compared, by: Who) -> Entry | None:
    """Freeze what was agreed; write what is off. Nothing for what nobody looked at."""
    stands, line = row.stands, row.line
    if stands is None:
        return None
    line.agreed, line.agreed_at, line.booked = stands.count, stands.at, stands.booked
    if stands.off:
        key = uuid5(NAMESPACE, f"line {line.pk}")
        line.entry = _write(line, stands.off, reason=_reason(line), by=by, key=key)
    line.save(update_fields=["agreed", "agreed_at", "booked", "entry"])
    return line.entry


def _write(line: CountLine, off: Decimal, *, reason: str, by: Who, key: UUID) -> Entry:
    """One entry of one difference, at the moment of the count."""
    sheet = line.sheet
    assert line.agreed_at is not None
    shelf = ledger.NewLine(
        line.item, Line.Account.SHELF, off, sheet.place, line.condition, line.length_um
    )
    other = ledger.NewLine(
        line.item, Line.Account.DIFFERENCE, -off, None, line.condition, line.length_um
    )
    try:
        return ledger.post(
            shop=sheet.stocktake.shop, kind=Entry.Kind.COUNTED, lines=[shelf, other], by=by,
            at=line.agreed_at, reason=reason, paper=f"{sheet.stocktake.name}: {sheet.place}"[:80],
            client_key=key,
        )  # fmt: skip
    except ledger.NotEnough as short:
        raise StocktakeRefused(
            f"{line.item}: since it was counted the book has given out more than lay there. "
            "Ask for a third look at it, then post."
        ) from short


def _reason(line: CountLine) -> str:
    told = CountLine.Reason(line.reason or CountLine.Reason.UNEXPLAINED).label
    return f"{told}: {line.words}"[:200] if line.words else told


def _close_with_the_last(stocktake: Stocktake, by: Who, at: datetime) -> None:
    if not stocktake.sheets.filter(posted_at=None).exists():
        stocktake.closed_at, stocktake.closed_by_id = at, by.pk if by else None
        stocktake.save(update_fields=["closed_at", "closed_by"])
