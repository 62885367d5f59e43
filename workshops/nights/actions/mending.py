"""What went wrong at the door: a wrong tap taken back, and who went home without a word."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from django.db import transaction

from workshops.access.models import User
from workshops.nights.actions.opened import check_open, hold
from workshops.nights.clock import moment
from workshops.nights.models import AlarmHand, Night, RollLine
from workshops.nights.refusals import NightRefused
from workshops.people.models import Person

# A sign-in older than this was no slip of the thumb: who goes home is signed out.
SLIP = timedelta(minutes=30)


@transaction.atomic
def take_back(*, line: RollLine, at: datetime) -> RollLine | None:
    """Take back the last tap on a stay: somebody out is in again, somebody in never came.

    None where the stay itself is gone.

    Raises
    ------
    NightRefused
        When the night is over, they came in again since, or have been in for half an hour.
    """
    check_open(line.night)
    hold(line.night)
    row = RollLine.objects.select_related("person", "night__shop").get(pk=line.pk)
    if row.out_at is None:
        if at - row.in_at > SLIP:
            raise NightRefused(f"{row.person} has been in for a while: sign them out instead.")
        row.delete()
        return None
    later = RollLine.objects.filter(night=row.night, person=row.person, in_at__gte=row.out_at)
    if later.exclude(pk=row.pk).exists():
        raise NightRefused(f"{row.person} came in again since: there is nothing to take back.")
    row.out_at, row.out_is_guessed = None, False
    row.collected_by, row.collected_word = None, ""
    # Its key stays: the tablet may send the same tap once more.
    row.save()
    return row


@transaction.atomic
def guess_out(*, night: Night, people: Iterable[Person], at: datetime) -> list[RollLine]:
    """Those went home without signing out: out at the stop, and marked as guessed.

    Raises
    ------
    NightRefused
        Before the stop of the night, when nobody is to be guessed yet.
    """
    Night.objects.select_for_update().get(pk=night.pk)
    stop = moment(night, night.stop)
    if at < stop:
        raise NightRefused(f"The stop is at {night.stop:%H:%M}: until then sign people out.")
    rows = RollLine.objects.filter(night=night, out_at=None, person__in=list(people))
    found = list(rows.select_related("person"))
    for row in found:
        # Who came after the stop was here then at least.
        row.out_at, row.out_is_guessed = max(stop, row.in_at), True
    RollLine.objects.bulk_update(found, ["out_at", "out_is_guessed"])
    return found


@transaction.atomic
def ask_for_a_hand(*, person: Person, is_wanted: bool, by: User | None, at: datetime) -> None:
    """Note, or forget, that somebody wants a hand when the building empties in a hurry."""
    if is_wanted:
        AlarmHand.objects.get_or_create(
            person=person, defaults={"shop": person.shop, "noted_by": by, "noted_at": at}
        )
    else:
        AlarmHand.objects.filter(person=person).delete()
