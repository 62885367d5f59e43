"""The training timetable: who is to learn what, beside whom, on which night."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from workshops.access.models import User
from workshops.nights.models import Night, TrainingDate
from workshops.nights.refusals import NightRefused
from workshops.nights.translate import closed_because
from workshops.people.actions import hold_register
from workshops.people.gate import Doing, Register, register_on
from workshops.people.models import Person
from workshops.stations.models import Level, Station

# The door mends it: a waiver is signed on the evening itself.
AT_THE_DOOR = frozenset({"waiver"})


@transaction.atomic
def set_training(
    *,
    night: Night,
    learner: Person,
    station: Station,
    lead: Person,
    by: User | None,
    at: datetime | None = None,
) -> TrainingDate:
    """Put a line on the timetable; set again, station and lead of that learner change.

    Raises
    ------
    NightRefused
        When the night is over, something is of another shop, the station is closed that
        night, the gate says no to one of the two, or the lead has learners enough.
    """
    night = Night.objects.select_for_update().select_related("shop").get(pk=night.pk)
    hold_register(night.shop)
    if night.status != Night.Status.PLANNED:
        raise NightRefused(f"The night of {night} is {night.get_status_display()}.")
    if {learner.shop_id, station.shop_id, lead.shop_id} != {night.shop_id}:
        raise NightRefused("People and station must belong to this shop.")
    if closed := closed_because(station, night):
        raise NightRefused(f"{station} is closed on {night}: {closed}.")
    register = register_on(night.shop, night.date)
    _ask_the_gate(register, learner=learner, station=station, lead=lead)
    _check_load(night, register, learner=learner, station=station, lead=lead)
    row, _ = TrainingDate.objects.update_or_create(
        night=night, learner=learner,
        defaults={
            "station": station, "lead": lead, "set_by": by, "set_at": at or timezone.now(),
            "why_not": "",
        },
    )  # fmt: skip
    return row


@transaction.atomic
def drop_training(*, row: TrainingDate) -> None:
    """Take a line off the timetable; a plan that stands stays until it is made anew."""
    TrainingDate.objects.filter(pk=row.pk).delete()


def _ask_the_gate(register: Register, *, learner: Person, station: Station, lead: Person) -> None:
    if learner == lead:
        raise NightRefused("Nobody learns from themselves: choose another lead.")
    if not register.stations[station.pk].has_learners:
        raise NightRefused(f"At {station} being shown how is all it takes: nobody learns there.")
    signed = register.people[learner.pk].current(station.pk, register.on)
    if signed and signed.level >= Level.ALONE:
        raise NightRefused(f"{learner} may work alone at {station} already.")
    for person, doing in ((learner, Doing.LEARNS), (lead, Doing.LEADS)):
        answer = register.answer(person.pk, station.pk, doing)
        if not answer.ok_but_for(AT_THE_DOOR):
            reasons = (each.in_public() for each in answer.reasons if each.rule not in AT_THE_DOOR)
            raise NightRefused(" ".join(f"{each.text} {each.remedy}" for each in reasons))


def _check_load(
    night: Night, register: Register, *, learner: Person, station: Station, lead: Person
) -> None:
    """Nobody teaches at two stations, teaches while learning, or has more than the rule allows."""
    others = list(TrainingDate.objects.filter(night=night).exclude(learner=learner))
    if any(row.learner_id == lead.pk for row in others):
        raise NightRefused(f"{lead} learns something themselves on {night}.")
    if any(row.lead_id == learner.pk for row in others):
        raise NightRefused(f"{learner} teaches somebody on {night}.")
    mine = [row for row in others if row.lead_id == lead.pk]
    if any(row.station_id != station.pk for row in mine):
        raise NightRefused(f"{lead} teaches at another station on {night}.")
    most = learners_at(station, register)
    if len(mine) >= most:
        raise NightRefused(
            f"{lead} has {len(mine)} at {station} on {night} already; one lead takes {most}."
        )


def learners_at(station: Station, register: Register) -> int:
    """How many learners one lead takes at the station: its own number, or the club's."""
    own = station.learners_per_lead
    return register.rules.learners_per_lead if own is None else own
