"""A group at the door: twelve scouts and two leaders on the list, and on the roll, in one go."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from django.db import transaction

from workshops.access.models import User
from workshops.club.queries import rules_of
from workshops.nights.actions.calendar import sign_up
from workshops.nights.actions.roll import sign_in
from workshops.nights.models import Group, Night, SignUp
from workshops.nights.refusals import NightRefused
from workshops.people.actions import add_guardian, add_person, edit_person, sign_waiver
from workshops.people.gate import register_on
from workshops.people.models import Guardianship, Person

MOST_MEMBERS = 60


@dataclass(frozen=True, slots=True)
class Member:
    """One of a group, as told at the door; the name may come later, the age may be unknown."""

    first_name: str = ""
    last_name: str = ""
    age: int | None = None


@dataclass(frozen=True)
class NewGroup:
    """Who came: grown-ups of the list, new grown-ups by name, and the members.

    ``papers_here`` says that everybody's signed waiver, and the consent for each minor, lie on
    the table; else nobody has them until they are handed in.
    """

    name: str
    members: Sequence[Member]
    leaders: Sequence[Person] = ()
    new_leaders: Sequence[Member] = ()
    papers_here: bool = False
    are_here: bool = False
    client_key: uuid.UUID = field(default_factory=uuid.uuid4)


@transaction.atomic
def sign_up_group(*, night: Night, new: NewGroup, by: User | None, at: datetime) -> Group:
    """Put a group on the list and on the night; sent again with its key, it is the same one.

    Each leader answers for each minor of the group and may collect them. Nothing is signed
    for anybody: without their papers the gate keeps them from working.

    Raises
    ------
    NightRefused
        When the night is over, nobody is told, a leader is of another shop or no grown-up.
    PeopleRefused
        When a name or an age cannot be; then nothing at all is kept.
    """
    Night.objects.select_for_update().get(pk=night.pk)
    already = Group.objects.filter(shop=night.shop, client_key=new.client_key).first()
    if already is not None:
        return already
    _check(night, new)
    leaders = list(dict.fromkeys(new.leaders))
    leaders += [_person(night, new.name, row, at=at, by=by, is_leader=True)
                for row in new.new_leaders]  # fmt: skip
    members = [
        _person(night, new.name, _named(row, new.name, number), at=at, by=by)
        for number, row in enumerate(new.members, 1)
    ]
    group = Group.objects.create(
        shop=night.shop, night=night, name=new.name.strip(), client_key=new.client_key,
        added_at=at, added_by=by,
    )  # fmt: skip
    group.leaders.set(leaders)
    group.members.set(members)
    _answer_for(group, at=at, by=by)
    if new.papers_here:
        hand_in_papers(group=group, by=by, at=at)
    for person in (*leaders, *members):
        _come(night, person, at=at, is_here=new.are_here)
    return group


@transaction.atomic
def hand_in_papers(*, group: Group, by: User | None, at: datetime) -> int:
    """The group's signed papers are here: waivers of all, consent for the minors.

    Says for how many a waiver was missing until now.
    """
    today = at.astimezone(group.shop.zone).date()
    register = register_on(group.shop, today)
    people = {person.pk: person for person in (*group.leaders.all(), *group.members.all())}
    lacking = [each for each in people.values() if not register.people[each.pk].has_waiver]
    for person in lacking:
        sign_waiver(person=person, version=str(today.year), on=today, by=by, at=at)
    rows = Guardianship.objects.filter(
        minor__in=group.members.all(), guardian__in=group.leaders.all(), consent_on=None
    )
    for row in rows.select_related("minor__shop", "guardian"):
        add_guardian(
            minor=row.minor, guardian=row.guardian, consent_on=today, may_collect=row.may_collect,
            by=by, at=at,
        )  # fmt: skip
    return len(lacking)


@transaction.atomic
def name_members(
    *, group: Group, told: Mapping[int, Member], by: User | None, at: datetime
) -> list[Person]:
    """Write down names and ages that were not told at the door; what is empty stays as it was.

    Raises
    ------
    NightRefused
        When somebody named is not of the group.
    PeopleRefused
        When a name or an age cannot be.
    """
    members = {person.pk: person for person in group.members.all()}
    if not set(told) <= set(members):
        raise NightRefused(f"Somebody named is not of {group.name}.")
    changed = []
    for pk, row in told.items():
        fields = _names(row) | (_age(group.night, group.name, row.age, at) if row.age else {})
        if fields:
            changed.append(edit_person(person=members[pk], fields=fields, by=by, at=at))
    return changed


def _check(night: Night, new: NewGroup) -> None:
    if night.status != Night.Status.PLANNED:
        raise NightRefused(f"The night of {night} is {night.get_status_display()}.")
    if not new.name.strip():
        raise NightRefused("Group: write what the group is called.")
    if not new.members or len(new.members) > MOST_MEMBERS:
        raise NightRefused(f"Members: a group has between 1 and {MOST_MEMBERS}.")
    if not new.leaders and not new.new_leaders:
        raise NightRefused("Leaders: name at least one grown-up who answers for the group.")
    adult_age = rules_of(night.shop).adult_age
    for leader in new.leaders:
        if leader.shop_id != night.shop_id:
            raise NightRefused(f"{leader} is not on this shop's list.")
        if not leader.is_adult_on(night.date, adult_age):
            raise NightRefused(f"{leader} does not count as an adult and cannot lead a group.")


def _named(row: Member, group: str, number: int) -> Member:
    if row.first_name.strip():
        return row
    # Everybody in the building stands on the roll, known by name or not.
    return Member(f"Guest {number} of {group.strip()}"[:60], "", row.age)


def _person(
    night: Night, group: str, row: Member, *, at: datetime, by: User | None,
    is_leader: bool = False,
) -> Person:  # fmt: skip
    # The troop that came last month is the same troop: nobody of it is put on the list twice.
    known = Person.objects.filter(
        shop=night.shop, is_active=True, first_name__iexact=row.first_name.strip(),
        last_name__iexact=row.last_name.strip(),
    )  # fmt: skip
    known = known.filter(**{f"{'led_groups' if is_leader else 'groups'}__name__iexact": group})
    again = list(known.distinct()[:2])
    if len(again) == 1 and not row.first_name.startswith("Guest "):
        return again[0]
    fields = _names(row) | {"note": f"Came with {group.strip()}."}
    fields |= {"is_adult_declared": True} if is_leader else _age(night, group, row.age, at)
    return add_person(shop=night.shop, fields=fields, by=by, at=at)


def _names(row: Member) -> dict[str, object]:
    if not row.first_name.strip():
        return {}
    return {"first_name": row.first_name.strip(), "last_name": row.last_name.strip()}


def _age(night: Night, group: str, age: int | None, at: datetime) -> dict[str, object]:
    """What an age told at the door says; the youngest that they can be, where they are young."""
    if age is None:
        return {}
    if age >= rules_of(night.shop).adult_age:
        return {"is_adult_declared": True, "born_on": None}
    today = at.astimezone(night.shop.zone).date()
    note = f"Came with {group.strip()}. Date of birth reckoned from the age told, {age}."
    return {"born_on": years_before(today, age), "is_adult_declared": False, "note": note}


def years_before(day: date, years: int) -> date:
    """The youngest date of birth of somebody who is so many years old on a day."""
    leap = (day.month, day.day) == (2, 29)
    return day.replace(year=day.year - years, day=28 if leap else day.day)


def _answer_for(group: Group, *, at: datetime, by: User | None) -> None:
    adult_age, day = rules_of(group.shop).adult_age, at.astimezone(group.shop.zone).date()
    held = set(Guardianship.objects.filter(shop=group.shop).values_list("minor", "guardian"))
    for member in group.members.all():
        if member.is_adult_on(day, adult_age):
            continue
        for leader in group.leaders.all():
            # A consent handed in before stays: naming them again would take it away.
            if (member.pk, leader.pk) not in held:
                add_guardian(minor=member, guardian=leader, by=by, at=at)


def _come(night: Night, person: Person, *, at: datetime, is_here: bool) -> None:
    if is_here:
        sign_in(night=night, person=person, at=at)
    else:
        sign_up(night=night, person=person, answer=SignUp.Answer.YES, at=at)
