"""The roll: who is in the building. It is the evacuation list, so it refuses nobody."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from workshops.nights.models import Night, Placing, RollLine, SignUp
from workshops.nights.refusals import NightRefused
from workshops.nights.standing import answer_for
from workshops.people.actions import hold_register
from workshops.people.gate import Register, register_on
from workshops.people.models import Person
from workshops.people.young import hours_on


@dataclass(frozen=True, slots=True)
class SignedIn:
    """A stay on the roll, and what to see to before this person works."""

    line: RollLine
    cautions: tuple[str, ...]


@transaction.atomic
def sign_in(*, night: Night, person: Person, at: datetime) -> SignedIn:
    """Put a person on the roll. Somebody already in stays in from the first time.

    Whoever is in the building must stand on the roll, waiver or not; a missing waiver, a
    missing guardian, a bar, and each station at which they are placed against the gate come
    back as cautions, and the gate keeps them from working.

    Raises
    ------
    NightRefused
        When the night is over or cancelled, or the person is of another shop.
    """
    if night.status != Night.Status.PLANNED:
        raise NightRefused(f"The night of {night} is {night.get_status_display()}.")
    if person.shop_id != night.shop_id:
        raise NightRefused(f"{person} is not on this shop's list.")
    # A bar that is being set at this moment is told at the door and not missed.
    hold_register(night.shop)
    line, _ = RollLine.objects.get_or_create(
        night=night, person=person, out_at=None, defaults={"in_at": at}
    )
    SignUp.objects.get_or_create(
        night=night, person=person, defaults={"answer": SignUp.Answer.YES, "answered_at": at}
    )
    return SignedIn(line, _cautions(night, person))


def _cautions(night: Night, person: Person) -> tuple[str, ...]:
    register = register_on(night.shop, night.date)
    facts, found = register.people[person.pk], []
    if register.rules.waiver_needed and not facts.has_waiver:
        found.append(f"{person.short_name} has no waiver that counts: sign it before any work.")
    found += [f"{person.short_name} is barred: {bar.reason}." for bar in facts.bars]
    found += [
        f"{person.short_name} works only beside a lead at "
        f"{register.stations[bar.station].name}: {bar.reason}."
        for bar in facts.only_with_a_lead
        if bar.station in register.stations
    ]
    found += _misplaced(night, person, register)
    if not facts.is_adult and register.rules.guardian_must_be_present:
        inside = set(
            RollLine.objects.filter(night=night, out_at=None).values_list("person", flat=True)
        )
        if inside.isdisjoint(facts.guardians):
            found.append(f"{person.short_name} counts as a minor and no guardian is in yet.")
    hours = hours_on(night.date, facts.age or 0) if not facts.is_adult else None
    if register.rules.young_hours and hours:
        found.append(
            f"{person.short_name} stops work by {hours.latest:%H:%M}, by the club's own policy."
        )
    return tuple(dict.fromkeys(found))


def _misplaced(night: Night, person: Person, register: Register) -> Iterator[str]:
    """The stations of tonight's plan at which the gate stops the person by now."""
    for row in Placing.objects.filter(night=night, person=person):
        answer = answer_for(register, row)
        # A missing waiver or consent is told once, and a bar above.
        if not answer.ok_but_for({"waiver", "consent", "barred"}):
            station = register.stations[row.station_id].name
            yield (
                f"{person.short_name} is placed at {station} tonight and must not start there: "
                f"{answer.reasons[0].text} Place somebody else."
            )


@transaction.atomic
def sign_out(*, night: Night, person: Person, at: datetime) -> RollLine:
    """Take a person off the roll.

    Raises
    ------
    NightRefused
        When the person is not in the building, or would be out before in.
    """
    line = RollLine.objects.filter(night=night, person=person, out_at=None).first()
    if line is None:
        raise NightRefused(f"{person} is not on the roll now.")
    if at < line.in_at:
        came = line.in_at.astimezone(night.shop.zone)
        raise NightRefused(f"{person} came in at {came:%H:%M}; the time out is earlier.")
    line.out_at = at
    line.save(update_fields=["out_at"])
    return line
