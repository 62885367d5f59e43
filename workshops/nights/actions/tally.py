"""The tally: one count is one row here and one entry in the book of movements."""

from __future__ import annotations

import uuid
from dataclasses import dataclass, field
from datetime import datetime

from django.db import transaction
from django.db.models import QuerySet

from inventory.ledger import actions as ledger
from inventory.ledger.models import Entry
from inventory.ledger.refusals import NotEnough
from inventory.materials.models import Item
from workshops.access.models import User
from workshops.nights.actions.uses import book_uses
from workshops.nights.models import Aim, Night, Tally
from workshops.nights.refusals import NightRefused
from workshops.stations.models import Operation


@dataclass(frozen=True, slots=True, kw_only=True)
class NewCount:
    """So many pieces of an operation, still to be booked."""

    operation: Operation
    at: datetime
    good: int = 0
    hold: int = 0
    scrap: int = 0
    counted_by: str = ""
    person_minutes: int | None = None
    client_key: uuid.UUID = field(default_factory=uuid.uuid4)

    @property
    def pieces(self) -> int:
        """All of them, good or not."""
        return self.good + self.hold + self.scrap


@transaction.atomic
def tally(
    *,
    night: Night,
    operation: Operation,
    at: datetime,
    by: User | None,
    good: int = 0,
    hold: int = 0,
    scrap: int = 0,
    person_minutes: int | None = None,
    counted_by: str = "",
    client_key: uuid.UUID | None = None,
) -> Tally:
    """Count pieces of one operation and post what that used and made.

    The same ``client_key`` counts once, however often it is sent. A tally is never refused
    because the book has too little: the shortfall is booked as a count difference.

    Raises
    ------
    NightRefused
        When nothing is counted, a number is negative, or the operation is of another shop.
    """
    # In turn, so that a count sent twice at once is found by the second.
    Night.objects.select_for_update().get(pk=night.pk)
    key = client_key or uuid.uuid4()
    already = Tally.objects.filter(shop=night.shop, client_key=key).first()
    if already is not None:
        return already
    count = NewCount(
        operation=operation, at=at, good=good, hold=hold, scrap=scrap, counted_by=counted_by,
        person_minutes=person_minutes, client_key=key,
    )  # fmt: skip
    row = book_count(night, count, by=by)
    book_uses(night=night)
    return row


def book_count(night: Night, count: NewCount, *, by: User | None, reason: str = "") -> Tally:
    """Write the row of a count and its entry; for a caller that has locked the night.

    Raises
    ------
    NightRefused
        As ``tally`` does.
    """
    name = count.operation.name
    if min(count.good, count.hold, count.scrap) < 0 or not count.pieces:
        raise NightRefused(f"Count at least one {name}: good, on hold or scrap.")
    if count.operation.shop_id != night.shop_id or night.status == Night.Status.CANCELLED:
        raise NightRefused(f"{name} cannot be counted for {night}.")
    entry = ledger.make(
        shop=night.shop, recipe=count.operation.recipe, good=count.good, hold=count.hold,
        scrap=count.scrap, by=by, at=count.at, night_key=night.date.isoformat(),
        client_key=count.client_key, reason=reason,
    )  # fmt: skip
    lower_aim(count.operation, by=count.good)
    return Tally.objects.create(
        shop=night.shop, night=night, operation=count.operation, good=count.good,
        hold=count.hold, scrap=count.scrap, person_minutes=count.person_minutes,
        counted_at=count.at, counted_by=count.counted_by, by=by, client_key=count.client_key,
        entry=entry,
    )  # fmt: skip


@transaction.atomic
def undo_tally(*, tally: Tally, at: datetime, by: User | None, reason: str = "undone") -> Tally:
    """Take a count back: a new row and a correcting entry, nothing is erased.

    Later counts may have cut the drops that this one left. They are then posted anew, from
    the sticks that come back.

    Raises
    ------
    NightRefused
        When it is an undoing itself, or what was made has been used since.
    """
    if tally.undoes_id is not None:
        raise NightRefused("That line takes a count back; count anew instead.")
    Night.objects.select_for_update().get(pk=tally.night_id)
    undone = Tally.objects.filter(undoes=tally).first()
    if undone is not None:
        return undone
    try:
        entry = _corrected(tally, reason=reason, by=by, at=at) if tally.entry else None
    except NotEnough as short:
        raise NightRefused(
            f"{tally.operation.name}: what was made then ({short.item.name}) has been used since. "
            "Take back the later counts first."
        ) from short
    lower_aim(tally.operation, by=-tally.good)
    row = Tally.objects.create(
        shop=tally.shop, night=tally.night, operation=tally.operation,
        good=tally.good, hold=tally.hold, scrap=tally.scrap,
        counted_at=at, by=by, entry=entry, undoes=tally,
    )  # fmt: skip
    book_uses(night=tally.night)
    return row


def _corrected(tally: Tally, *, reason: str, by: User | None, at: datetime) -> Entry:
    assert tally.entry is not None
    try:
        with transaction.atomic():
            return ledger.correct(tally.entry, reason=reason, by=by, at=at)
    except NotEnough as short:
        if not short.item.is_by_length:
            raise
        later = list(_cut_since(tally, short.item))
    for row in later:
        assert row.entry is not None
        ledger.correct(row.entry, reason=f"cut anew: {reason} before it", by=by, at=at)
    entry = ledger.correct(tally.entry, reason=reason, by=by, at=at)
    for row in reversed(later):
        post_anew(row, by=by)
    return entry


def _cut_since(tally: Tally, metal: Item) -> QuerySet[Tally]:
    """The counts that stand, booked later, that took of the metal; latest first."""
    rows = Tally.objects.standing().filter(
        shop=tally.shop, entry__gt=tally.entry_id,
        entry__lines__item=metal,
    )  # fmt: skip
    rows = rows.distinct().select_related("night", "entry", "operation__recipe")
    # By number: by the entry itself means by its time, as entries are ordered.
    return rows.order_by("-entry_id")


def post_anew(row: Tally, *, by: User | None) -> None:
    """Book a count again whose entry was taken out because of an earlier one."""
    row.entry = ledger.make(
        shop=row.shop, recipe=row.operation.recipe, good=row.good, hold=row.hold, scrap=row.scrap,
        by=by, at=row.counted_at, night_key=row.night.date.isoformat(), client_key=uuid.uuid4(),
        reason="cut anew: an earlier count was taken back",
    )  # fmt: skip
    row.save(update_fields=["entry"])


def lower_aim(operation: Operation, *, by: int) -> None:
    """A finished set is one less to make: the next plan prices by what is left now."""
    aim = Aim.objects.filter(item=operation.recipe.output_id).first()
    if aim is not None and by:
        aim.wanted = max(0, aim.wanted - by)
        aim.save(update_fields=["wanted"])
