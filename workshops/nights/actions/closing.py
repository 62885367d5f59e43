"""The hot-work permit and the end of a night."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db import transaction

from workshops.club.queries import rules_of
from workshops.nights.actions.calendar import refuse_while_inside
from workshops.nights.actions.uses import book_uses
from workshops.nights.clock import moment
from workshops.nights.models import HandOver, HotWorkPermit, Night, Tally
from workshops.nights.refusals import NightRefused
from workshops.people.actions import hold_register
from workshops.people.gate import may
from workshops.people.models import Person
from workshops.stations.models import Station


@transaction.atomic
def open_permit(*, night: Night, watcher: Person, opened_by: str, at: datetime) -> HotWorkPermit:
    """Open the night's hot-work permit with a named fire watch.

    Raises
    ------
    NightRefused
        When the night is over or cancelled, the shop has no fire watch, the permit is open,
        or the gate says no.
    """
    _check_planned(Night.objects.select_for_update().get(pk=night.pk))
    hold_register(night.shop)
    station = Station.objects.filter(shop=night.shop, kind=Station.Kind.FIRE_WATCH).first()
    if station is None:
        raise NightRefused("Set up the fire watch as a station first: it has its own sign-off.")
    if stop := station.stopped_on(night.date):
        raise NightRefused(f"{station} is closed: {stop.told}.")
    if HotWorkPermit.objects.filter(night=night).exists():
        raise NightRefused("The permit of this night is open already.")
    answer = may(watcher, station, night.date, doing="watches")
    if not answer.ok:
        raise NightRefused(" ".join(reason.text for reason in answer.reasons))
    minutes = rules_of(night.shop).watch_minutes
    return HotWorkPermit.objects.create(
        night=night, watcher=watcher, watch_minutes=minutes, opened_by=opened_by, opened_at=at
    )


@transaction.atomic
def end_watch(
    *, permit: HotWorkPermit, last_spark_at: datetime, at: datetime, signed_by: str
) -> HotWorkPermit:
    """Sign the end of the fire watch.

    Raises
    ------
    NightRefused
        When it is signed already, before the watch has lasted as long as the permit says,
        for sparks before the doors opened, or without a name.
    """
    if permit.watch_ended_at is not None:
        raise NightRefused(f"The end of the watch is signed already, by {permit.watch_signed_by}.")
    doors = moment(permit.night, permit.night.doors)
    if last_spark_at < doors:
        raise NightRefused(
            f"Last spark: the doors opened at {permit.night.doors:%H:%M}, so it was not before."
        )
    due = last_spark_at + timedelta(minutes=permit.watch_minutes)
    if at < due:
        local = due.astimezone(permit.night.shop.zone)
        raise NightRefused(f"The watch lasts until {local:%H:%M}. Sign it then.")
    if not signed_by.strip():
        raise NightRefused("The fire watch signs the end of the watch by name.")
    permit.last_spark_at, permit.watch_ended_at = last_spark_at, at
    permit.watch_signed_by = signed_by.strip()
    permit.save(update_fields=["last_spark_at", "watch_ended_at", "watch_signed_by"])
    return permit


@transaction.atomic
def close_night(*, night: Night, words: str, written_by: str, at: datetime) -> Night:
    """Close a night with what the next opener must know.

    Raises
    ------
    NightRefused
        When the night is over or cancelled, people are still on the roll, hot work had no
        permit, or the end of the fire watch is not signed.
    """
    _check_planned(Night.objects.select_for_update().get(pk=night.pk))
    refuse_while_inside(night)
    permit = HotWorkPermit.objects.filter(night=night).first()
    if permit is None and _sparks_flew(night):
        raise NightRefused("Hot work was tallied and no permit was opened. Open it and sign it.")
    if permit is not None and permit.watch_ended_at is None:
        raise NightRefused(f"{permit.watcher} has not signed the end of the fire watch.")
    HandOver.objects.update_or_create(
        night=night, defaults={"words": words, "written_by": written_by, "written_at": at}
    )
    night.status = Night.Status.CLOSED
    night.save(update_fields=["status"])
    book_uses(night=night)
    return night


def _check_planned(night: Night) -> None:
    if night.status != Night.Status.PLANNED:
        raise NightRefused(f"The night of {night} is {night.get_status_display()} already.")


def _sparks_flew(night: Night) -> bool:
    counted = Tally.objects.filter(night=night, undoes=None, undone_by=None)
    return counted.filter(operation__station__is_spark=True).exists()
