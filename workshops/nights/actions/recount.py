"""Many counts at once, and counts that take the place of others: all of it or nothing.

A tablet that comes back to the network brings a batch; a count told of the wrong operation is
taken back and counted anew. Both leave every row and entry where it was and add others.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from django.db import transaction

from inventory.ledger import actions as ledger
from inventory.ledger.models import Entry, Line
from inventory.ledger.refusals import NotEnough
from workshops.access.models import User
from workshops.nights.actions.tally import NewCount, book_count, lower_aim, post_anew
from workshops.nights.actions.uses import book_uses
from workshops.nights.models import Night, Tally
from workshops.nights.refusals import NightRefused


@transaction.atomic
def recount(
    *,
    night: Night,
    counts: Iterable[NewCount],
    taken: Sequence[Tally] = (),
    by: User | None,
    at: datetime,
    reason: str = "",
) -> list[Tally]:
    """Take the rows ``taken`` back and book ``counts``; gives the new rows, in their order.

    Where pieces that are taken back have been used since, the counts that used them are
    posted anew after the new ones: what then is not there they draw from the count
    difference, as every tally does.

    Raises
    ------
    NightRefused
        When a row was taken back before, a count is of nothing or of another shop, the
        night is cancelled, or pieces taken back have left otherwise (set out, moved, scrap).
    """
    Night.objects.select_for_update().get(pk=night.pk)
    later: list[Tally] = []
    if taken:
        _refuse_undone(taken)
        later = _take_out(taken, reason=reason, by=by, at=at)
        _mark_undone(taken, by=by, at=at)
    rows = [book_count(night, each, by=by, reason=reason) for each in counts]
    for row in later:
        post_anew(row, by=by)
    book_uses(night=night)
    return rows


def _refuse_undone(taken: Sequence[Tally]) -> None:
    undone = Tally.objects.filter(undoes__in=taken).select_related("undoes__operation").first()
    row = undone.undoes if undone else next((row for row in taken if row.undoes_id), None)
    if row is not None:
        raise NightRefused(f"{row} was taken back before.")


def _take_out(taken: Sequence[Tally], *, reason: str, by: User | None, at: datetime) -> list[Tally]:
    """Correct the entries of the rows; gives the later counts that must be posted anew."""
    entries = [row.entry for row in reversed(_booked(taken)) if row.entry]
    try:
        with transaction.atomic():
            _correct(entries, reason=reason, by=by, at=at)
    except NotEnough:
        later = _used_since(taken)
    else:
        return []
    also = [row.entry for row in reversed(_booked([*taken, *later])) if row.entry]
    try:
        _correct(also, reason=reason, by=by, at=at)
    except NotEnough as short:
        raise NightRefused(
            f"{short.item.name}: some of what was counted then is not there any more, and no "
            "later count used it. Look at its movements first."
        ) from short
    return later


def _correct(entries: Iterable[Entry], *, reason: str, by: User | None, at: datetime) -> None:
    for entry in entries:
        ledger.correct(entry, reason=reason, by=by, at=at)


def _booked(rows: Iterable[Tally]) -> list[Tally]:
    """Rows with an entry, in the order in which they were booked."""
    return sorted((row for row in rows if row.entry_id), key=lambda row: row.entry_id or 0)


def _used_since(taken: Sequence[Tally]) -> list[Tally]:
    """The standing counts booked later that used what the rows made or cut, and so on upward."""
    first = _booked(taken)[0].entry_id
    rows = (
        Tally.objects.standing().filter(shop=taken[0].shop, entry__gte=first).order_by("entry_id")
    )
    rows = rows.select_related("entry", "night", "shop", "operation__recipe__output")
    numbers = {row.pk for row in taken}
    touched: set[int] = set()
    found = []
    for row in rows.prefetch_related("entry__lines"):
        assert row.entry is not None
        items = {line.item_id for line in row.entry.lines.all()}
        used = {line.item_id for line in row.entry.lines.all() if line.account == Line.Account.USED}
        if row.pk in numbers:
            touched |= items
        elif used & touched:
            touched |= items
            found.append(row)
    return found


def _mark_undone(taken: Iterable[Tally], *, by: User | None, at: datetime) -> None:
    entries = [row.entry_id for row in taken if row.entry_id]
    corrections = {each.corrects_id: each for each in Entry.objects.filter(corrects__in=entries)}
    for row in taken:
        Tally.objects.create(
            shop=row.shop, night=row.night, operation=row.operation,
            good=row.good, hold=row.hold, scrap=row.scrap,
            counted_at=at, by=by, entry=corrections.get(row.entry_id), undoes=row,
        )  # fmt: skip
        lower_aim(row.operation, by=-row.good)
