"""Ticking the steps of the close, counting racks by hand, and closing the night."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from inventory.ledger.queries import on_hand
from inventory.materials.models import Item
from workshops.lockup.models import RackCount, StepTick
from workshops.lockup.queries import ToDo, as_found, close_out_of
from workshops.nights.actions import Also, close_night
from workshops.nights.models import Night
from workshops.nights.refusals import NightRefused


@dataclass(frozen=True, slots=True)
class Tick:
    """What was said of one step: done, or not done because."""

    step: ToDo
    is_done: bool
    because: str = ""


@transaction.atomic
def tick_steps(
    *, night: Night, ticks: Iterable[Tick], ticked_by: str, at: datetime
) -> list[StepTick]:
    """Write down which steps are done, and why others are not, by name.

    Raises
    ------
    NightRefused
        When the night is over, nobody is named, or a step is not done and nobody says why.
    """
    _check_planned(Night.objects.select_for_update().get(pk=night.pk))
    if not ticked_by.strip():
        raise NightRefused("Who ticks? Each step is ticked by name.")
    rows = []
    for each in ticks:
        if not each.is_done and not each.because.strip():
            raise NightRefused(f"{each.step.words}: not done, because? Say why in a word or two.")
        rows.append(
            StepTick(
                night=night, station=each.step.station, step=each.step.step, at=at,
                is_done=each.is_done, because="" if each.is_done else each.because.strip(),
                ticked_by=ticked_by.strip(),
            )
        )  # fmt: skip
    return StepTick.objects.bulk_create(rows)


@transaction.atomic
def count_racks(
    *, night: Night, counted: Mapping[int, int], counted_by: str, at: datetime
) -> list[RackCount]:
    """Write down what somebody counted on the racks, beside what the book says now.

    Raises
    ------
    NightRefused
        When the night is over, or nobody is named.
    """
    _check_planned(Night.objects.select_for_update().get(pk=night.pk))
    if not counted_by.strip():
        raise NightRefused("Who counted? A count has a name.")
    items = list(Item.objects.filter(shop=night.shop, pk__in=counted))
    booked = {row.item.pk: int(row.good + row.hold) for row in on_hand(night.shop, items)}
    return RackCount.objects.bulk_create(
        RackCount(
            night=night, item=item, counted=counted[item.pk], booked=booked.get(item.pk, 0),
            counted_by=counted_by.strip(), at=at,
        )
        for item in items
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Words:
    """What the closer writes: for the next opener, whom to ring, and why steps are not done."""

    words: str
    first_job: str = ""
    ring: str = ""
    not_done: str = ""


@transaction.atomic
def close_out(*, night: Night, given: Words, by: str, at: datetime) -> Night:
    """Close the night with its hand-over; what nobody ticked is kept as not done, with why.

    Raises
    ------
    NightRefused
        When steps are unsaid and nobody says why, and as ``close_night`` refuses.
    """
    unsaid = close_out_of(night).unsaid
    if unsaid and not given.not_done.strip():
        raise NightRefused(
            f"{len(unsaid)} steps are neither ticked nor explained, the first: "
            f"{unsaid[0].station or 'the shop'}, {unsaid[0].words}. Tick them, or say why not."
        )
    if unsaid:
        ticks = [Tick(each, is_done=False, because=given.not_done) for each in unsaid]
        tick_steps(night=night, ticks=ticks, ticked_by=by, at=at)
    also = Also(given.first_job.strip(), given.ring.strip(), as_found(close_out_of(night)))
    return close_night(night=night, words=given.words, written_by=by, at=at, also=also)


def _check_planned(night: Night) -> None:
    if night.status != Night.Status.PLANNED:
        raise NightRefused(f"The night of {night} is {night.get_status_display()} already.")
