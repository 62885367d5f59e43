"""That somebody was asked to come, and what they said."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from workshops.access.models import User
from workshops.nights.actions import sign_up
from workshops.nights.models import Night, SignUp
from workshops.people.gate import may
from workshops.people.models import Person
from workshops.stations.models import Station
from workshops.tonight.models import Ask
from workshops.tonight.refusals import TonightRefused
from workshops.tonight.stations import AT_THE_DOOR

Reply = Ask.Reply


@transaction.atomic
def ask(*, night: Night, person: Person, station: Station, by: User | None, at: datetime) -> Ask:
    """Note that somebody was asked for a station; asked twice for it, it is noted once.

    Raises
    ------
    TonightRefused
        When the night is over or cancelled, something is of another shop, the person comes
        anyway, or the gate says that they may not work there.
    """
    if night.status != Night.Status.PLANNED:
        raise TonightRefused(f"The night of {night} is {night.get_status_display()}.")
    if {person.shop_id, station.shop_id} != {night.shop_id}:
        raise TonightRefused("Person and station must belong to this shop.")
    there = Ask.objects.filter(night=night, person=person, station=station).first()
    if there:
        return there
    if SignUp.objects.filter(night=night, person=person, answer=SignUp.Answer.YES).exists():
        raise TonightRefused(f"{person} comes already. Look at the page again.")
    doing = "watches" if station.kind == Station.Kind.FIRE_WATCH else "works"
    answer = may(person, station, night.date, doing=doing)
    if not answer.ok_but_for(AT_THE_DOOR):
        raise TonightRefused(answer.reasons[0].in_public().text + " Ask somebody else.")
    row, _ = Ask.objects.get_or_create(
        night=night, person=person, station=station,
        defaults={"shop": night.shop, "asked_by": by, "asked_at": at},
    )  # fmt: skip
    return row


@transaction.atomic
def reply(*, ask: Ask, reply: str, at: datetime) -> Ask:
    """Note what somebody said: a yes signs them up, a no says so for the night.

    A later word replaces an earlier one. Who could not be reached has answered nothing.

    Raises
    ------
    TonightRefused
        When that is no reply.
    workshops.nights.refusals.NightRefused
        When the night is over or cancelled.
    """
    if reply not in (Reply.YES, Reply.NO, Reply.NONE):
        raise TonightRefused("Say whether they come, cannot, or could not be reached.")
    held = Ask.objects.select_for_update().select_related("night__shop", "person").get(pk=ask.pk)
    held.reply, held.replied_at = reply, at
    held.save(update_fields=["reply", "replied_at"])
    if reply != Reply.NONE:
        _answer(held, SignUp.Answer.YES if reply == Reply.YES else SignUp.Answer.NO, at)
    return held


def _answer(row: Ask, answer: str, at: datetime) -> None:
    before = SignUp.objects.filter(night=row.night, person=row.person).first()
    if before and before.answer == answer:
        return
    sign_up(
        night=row.night, person=row.person, answer=answer, at=at,
        arrives=before.arrives if before else None, leaves=before.leaves if before else None,
    )  # fmt: skip
