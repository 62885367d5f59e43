"""Pieces counted as the wrong thing: taken out of what they were counted as, and counted anew."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.db.models import F

from workshops.access.models import User
from workshops.counting.actions.settling import (
    Three,
    beyond_of,
    settle,
    standing,
    sums,
    three,
)
from workshops.counting.models import Mending, PaperLine
from workshops.counting.refusals import CountingRefused
from workshops.nights.actions.recount import recount
from workshops.nights.actions.tally import NewCount
from workshops.nights.models import Night, Tally
from workshops.stations.models import Operation


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """So many pieces were counted as one operation and were another; or were none at all."""

    counted_as: Operation
    was: Operation | None
    good: int = 0
    hold: int = 0
    scrap: int = 0

    @property
    def three(self) -> Three:
        """Good, hold and scrap."""
        return (self.good, self.hold, self.scrap)


@dataclass(frozen=True, slots=True)
class Opened:
    """A count that is taken back, and how much of it was something else."""

    row: Tally
    goes: Three

    @property
    def rest(self) -> Three:
        """What it still holds afterwards."""
        return beyond_of((self.row.good, self.row.hold, self.row.scrap), self.goes)

    def as_rest(self) -> NewCount:
        """The rest, counted by whoever counted it then."""
        good, hold, scrap = self.rest
        return NewCount(
            operation=self.row.operation, at=self.row.counted_at,
            counted_by=self.row.counted_by, good=good, hold=hold, scrap=scrap,
        )  # fmt: skip


@transaction.atomic
def mend(
    *, night: Night, wrong: Wrong, reason: str, by: User | None, at: datetime,
    client_key: uuid.UUID | None = None,
) -> Mending:  # fmt: skip
    """Move pieces of one night from one operation to another, exactly, both in the history.

    The latest counts are opened first. Where later counts used the pieces, the books are
    posted anew as an undoing does. The same ``client_key`` mends once.

    Raises
    ------
    CountingRefused
        When nothing is moved, nobody says why, or fewer stand counted than are to go.
    NightRefused
        When the pieces have left otherwise.
    """
    Night.objects.select_for_update().get(pk=night.pk)
    key = client_key or uuid.uuid4()
    already = Mending.objects.filter(shop=night.shop, client_key=key).first()
    if already is not None:
        return already
    _refuse_nonsense(night, wrong, reason)
    opened = _opened(night, wrong)
    counts = [each.as_rest() for each in opened if any(each.rest)]
    if wrong.was is not None:
        counts.append(_as_was(wrong, wrong.was, opened[0].row))
    new = recount(
        night=night, counts=counts, taken=[each.row for each in opened], by=by, at=at,
        reason=f"was {wrong.was or 'nothing'}: {reason}"[:200],
    )  # fmt: skip
    _tell_sheets(opened, new)
    row = Mending.objects.create(
        shop=night.shop, night=night, counted_as=wrong.counted_as, was=wrong.was, good=wrong.good,
        hold=wrong.hold, scrap=wrong.scrap, reason=reason.strip(), by=by, at=at, client_key=key,
    )  # fmt: skip
    touched = {wrong.counted_as.pk} | ({wrong.was.pk} if wrong.was else set())
    settle(night=night, operations=touched, by=by, at=at)
    return row


def _refuse_nonsense(night: Night, wrong: Wrong, reason: str) -> None:
    if not reason.strip():
        raise CountingRefused("Say why: who saw it, and what was really made.")
    if min(wrong.three) < 0 or not any(wrong.three):
        raise CountingRefused("Say how many pieces: good, on hold or scrap.")
    if wrong.was == wrong.counted_as:
        raise CountingRefused(f"They were counted as {wrong.counted_as}: choose what they were.")
    there = sums(standing(night, wrong.counted_as.pk))
    if any(goes > stands for goes, stands in zip(wrong.three, there, strict=True)):
        good, hold, scrap = there
        raise CountingRefused(
            f"{wrong.counted_as}: {good} good, {hold} on hold and {scrap} scrap stand counted "
            "that night, so no more can have been something else."
        )


def _opened(night: Night, wrong: Wrong) -> list[Opened]:
    """The latest counts that together hold what is to go, and how much goes from each."""
    left, found = wrong.three, []
    # What a sheet adds follows from what was decided of it, so it is opened last.
    rows = standing(night, wrong.counted_as.pk).order_by(
        F("paper_line").asc(nulls_first=True), "-counted_at", "-pk"
    )
    for row in rows.select_related("entry", "shop", "night", "operation__recipe__output"):
        goes = three(min(one, has) for one, has in zip(left, _of(row), strict=True))
        if any(goes):
            found.append(Opened(row, goes))
            left = beyond_of(left, goes)
    return found


def _of(row: Tally) -> Three:
    return (row.good, row.hold, row.scrap)


def _as_was(wrong: Wrong, was: Operation, latest: Tally) -> NewCount:
    return NewCount(
        operation=was,
        at=latest.counted_at,
        counted_by=latest.counted_by,
        good=wrong.good,
        hold=wrong.hold,
        scrap=wrong.scrap,
    )


def _tell_sheets(opened: Sequence[Opened], new: Sequence[Tally]) -> None:
    """A line of a sheet knows what of it was moved, and the row that counts what is left."""
    rests = iter(new)
    for each in opened:
        rest = next(rests) if any(each.rest) else None
        line = PaperLine.objects.filter(tally=each.row).first()
        if line is not None:
            line.moved = [one + more for one, more in zip(line.moved, each.goes, strict=True)]
            line.tally = rest
            line.save(update_fields=["moved", "tally"])
