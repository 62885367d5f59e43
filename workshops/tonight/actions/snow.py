"""A night called off: its people moved to another night, those who come told, training offered."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from django.conf import settings
from django.core.mail import send_mail
from django.db import transaction

from workshops.access.models import User
from workshops.nights.actions import add_night, cancel_night, set_training, sign_up
from workshops.nights.actions.calendar import Bringing
from workshops.nights.models import Night, SignUp, TrainingDate
from workshops.nights.refusals import NightRefused
from workshops.tonight.letters import letter
from workshops.tonight.models import CalledOff, Told
from workshops.tonight.refusals import TonightRefused

COUNTED_ON = (SignUp.Answer.YES, SignUp.Answer.MAYBE)


@transaction.atomic
def call_off(*, night: Night, reason: str, by: User | None, at: datetime) -> CalledOff:
    """Cancel a night and say why; called off already, it stays as it was.

    Raises
    ------
    workshops.nights.refusals.NightRefused
        When it is over, somebody is still in the building, or no reason is given.
    """
    if night.status != Night.Status.CANCELLED:
        cancel_night(night=night, reason=reason, at=at)
    row, _ = CalledOff.objects.get_or_create(
        night=night, defaults={"shop": night.shop, "by": by, "at": at}
    )
    return row


@transaction.atomic
def take_off(
    *, night: Night, reason: str, to: Night | None, new_day: date | None, by: User | None,
    at: datetime,
) -> int | None:  # fmt: skip
    """Call a night off and move its people, to a night or a new day; all of it or nothing.

    A new day goes before the night chosen.

    Gives how many were moved; None where they go to no other night.

    Raises
    ------
    TonightRefused
        When the night does not take them.
    workshops.nights.refusals.NightRefused
        As calling off and a new night refuse.
    """
    call_off(night=night, reason=reason, by=by, at=at)
    target = night_instead(night=night, on=new_day) if new_day else to
    return move_people(night=night, to=target, by=by, at=at) if target else None


@transaction.atomic
def move_people(*, night: Night, to: Night, by: User | None, at: datetime) -> int:
    """Note everybody who meant to come as "perhaps" on another night; says how many.

    Times, guests and notes go with them. Who has answered for that night already keeps that
    answer, whatever it is; so doing it twice changes nothing.

    Raises
    ------
    TonightRefused
        When the night is not called off, or the other one is of another shop, over, the same,
        or already behind.
    """
    if night.status != Night.Status.CANCELLED:
        raise TonightRefused("Call the night off first, and say why.")
    today = at.astimezone(night.shop.zone).date()
    is_open = to.status == Night.Status.PLANNED and to.date >= today
    if to.shop_id != night.shop_id or to.pk == night.pk or not is_open:
        raise TonightRefused("Choose a night that is still to come.")
    answered = set(SignUp.objects.filter(night=to).values_list("person", flat=True))
    rows = SignUp.objects.filter(night=night, answer__in=COUNTED_ON).select_related("person")
    moved = [row for row in rows if row.person_id not in answered and row.person.is_active]
    for row in moved:
        _move(row, to, at)
    CalledOff.objects.update_or_create(
        night=night, defaults={"shop": night.shop, "moved_to": to, "by": by, "at": at}
    )
    return len(moved)


def _move(row: SignUp, to: Night, at: datetime) -> None:
    # Hours that do not fit the other night would refuse the move: then they are asked anew.
    fits = (row.arrives or to.doors) < (row.leaves or to.lock_up)
    sign_up(
        night=to, person=row.person, answer=SignUp.Answer.MAYBE, at=at,
        arrives=row.arrives if fits else None, leaves=row.leaves if fits else None,
        bringing=Bringing(row.guests, row.guest_names, row.note),
    )  # fmt: skip


@transaction.atomic
def night_instead(*, night: Night, on: date) -> Night:
    """Another night like the one called off, on another day.

    Raises
    ------
    workshops.nights.refusals.NightRefused
        When that day has a night already.
    """
    return add_night(
        shop=night.shop, on=on, doors=night.doors, stop=night.stop, lock_up=night.lock_up,
        kind=night.kind, goal=night.goal,
        blocks=[(block.starts, block.ends) for block in night.blocks.all()],
    )  # fmt: skip


def tell(*, night: Night, by: User | None, at: datetime) -> list[Told]:
    """Tell everybody who meant to come that the night is off, each once; gives those told now.

    One letter to an address, whoever shares it. Who has none stands on the list to be rung.
    A letter that cannot be sent is not noted, and goes when this is done again.

    Raises
    ------
    TonightRefused
        When the night is not called off.
    """
    if night.status != Night.Status.CANCELLED:
        raise TonightRefused("Call the night off first, and say why.")
    rows = SignUp.objects.filter(night=night, answer__in=COUNTED_ON).exclude(
        person__in=Told.objects.filter(night=night).values("person")
    )
    by_address: dict[str, list[SignUp]] = {}
    for row in rows.select_related("person"):
        by_address.setdefault(row.person.email.strip().lower(), []).append(row)
    # Whoever must be rung is noted first: a letter that fails keeps nobody off that list.
    told = _note(night, by_address.pop("", []), by=by, at=None)
    for address, sign_ups in by_address.items():
        told += _write(night, address, sign_ups, by=by, at=at)
    return told


@transaction.atomic
def _write(
    night: Night, address: str, sign_ups: list[SignUp], *, by: User | None, at: datetime
) -> list[Told]:
    # Written first: a second press at the same moment stops here and sends nothing.
    rows = _note(night, sign_ups, by=by, at=at)
    if rows:
        people = [row.person for row in rows]
        subject, words = letter(night, people)
        send_mail(subject, words, settings.DEFAULT_FROM_EMAIL, [address])
    return rows


@transaction.atomic
def _note(
    night: Night, sign_ups: Iterable[SignUp], *, by: User | None, at: datetime | None
) -> list[Told]:
    Night.objects.select_for_update().get(pk=night.pk)
    told = set(Told.objects.filter(night=night).values_list("person", flat=True))
    return [
        Told.objects.create(
            shop=night.shop, night=night, person=row.person, has_email=at is not None,
            told_at=at, by=by,
        )
        for row in sign_ups if row.person_id not in told
    ]  # fmt: skip


@transaction.atomic
def rung(*, told: Told, by: User | None, at: datetime) -> Told:
    """Note that somebody without an address was told by mouth; noted once."""
    held = Told.objects.select_for_update().get(pk=told.pk)
    if held.told_at is None:
        held.told_at, held.by = at, by
        held.save(update_fields=["told_at", "by"])
    return held


@transaction.atomic
def move_training(
    *, night: Night, to: Night, by: User | None, at: datetime
) -> tuple[list[TrainingDate], list[str]]:
    """Offer the lines of the timetable to another night; gives the lines, and who was refused.

    A learner who has a line there keeps it. The gate is asked for that day anew.
    """
    taken = set(TrainingDate.objects.filter(night=to).values_list("learner", flat=True))
    found, refused = [], []
    for row in TrainingDate.objects.filter(night=night).select_related("learner", "lead"):
        if row.learner_id in taken:
            continue
        try:
            with transaction.atomic():
                found.append(
                    set_training(
                        night=to, learner=row.learner, station=row.station, lead=row.lead, by=by,
                        at=at,
                    )
                )  # fmt: skip
        except NightRefused as refusal:
            refused.append(str(refusal))
    return found, refused
