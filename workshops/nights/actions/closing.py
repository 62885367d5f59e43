"""The end of a night: nobody in, the fire watch signed, and what the next opener must know."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from workshops.nights.actions.calendar import refuse_while_inside
from workshops.nights.actions.uses import book_uses
from workshops.nights.actions.watch import sparks_flew
from workshops.nights.models import HandOver, Night
from workshops.nights.permit.queries import hot_work_of
from workshops.nights.refusals import NightRefused


@dataclass(frozen=True, slots=True)
class Also:
    """What a hand-over says beside its words; ``found`` is what the site knew then."""

    first_job: str = ""
    ring: str = ""
    found: Sequence[Mapping[str, Any]] = ()


@transaction.atomic
def close_night(
    *, night: Night, words: str, written_by: str, at: datetime, also: Also | None = None
) -> Night:
    """Close a night with what the next opener must know.

    Raises
    ------
    NightRefused
        When the night is over or cancelled, people are still on the roll, hot work had no
        permit, the end of the fire watch is not signed since the last spark, or a second look
        that was ordered is not.
    """
    # Held until the commit: a spark told at this moment either stands in the way, or is refused
    # because the night is over.
    _check_planned(Night.objects.select_for_update().get(pk=night.pk))
    refuse_while_inside(night)
    found = hot_work_of(night)
    if found.permit is None and sparks_flew(night):
        raise NightRefused("Hot work was tallied and no permit was opened. Open it and sign it.")
    if found.last_spark is None and sparks_flew(night):
        raise NightRefused("Hot work was tallied: write down when the last spark was, and watch.")
    if found.owes:
        raise NightRefused(found.owes)
    given = also or Also()
    HandOver.objects.update_or_create(
        night=night,
        defaults={
            "words": words, "written_by": written_by, "written_at": at,
            "first_job": given.first_job, "ring": given.ring, "found": list(given.found),
        },
    )  # fmt: skip
    night.status = Night.Status.CLOSED
    night.save(update_fields=["status"])
    book_uses(night=night)
    return night


@transaction.atomic
def mark_read(*, hand_over: HandOver, read_by: str, at: datetime) -> HandOver:
    """Somebody has read the hand-over, by name; the first who did stays.

    Raises
    ------
    NightRefused
        Without a name.
    """
    row = HandOver.objects.select_for_update().get(pk=hand_over.pk)
    if not read_by.strip():
        raise NightRefused("Who has read it? Write a name.")
    if row.read_at is None:
        row.read_by, row.read_at = read_by.strip(), at
        row.save(update_fields=["read_by", "read_at"])
    return row


def _check_planned(night: Night) -> None:
    if night.status != Night.Status.PLANNED:
        raise NightRefused(f"The night of {night} is {night.get_status_display()} already.")
