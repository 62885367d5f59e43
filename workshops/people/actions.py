"""The people list: add and change people, waivers and guardians."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from inventory.places.models import Shop
from workshops.access.models import User
from workshops.club.queries import rules_of
from workshops.people.barring import lift_bar, set_bar
from workshops.people.days import last_day
from workshops.people.deciding import set_lifetime
from workshops.people.known_by import is_erased
from workshops.people.looking import look_at
from workshops.people.models import Guardianship, Person, Waiver
from workshops.people.refusals import (
    DayRefused,
    GuardianRefused,
    NotOfThisShop,
    PeopleRefused,
    UnknownField,
)
from workshops.people.reviewing import review
from workshops.people.signing import enter_sign_off, sign_off
from workshops.people.stops import hold_register, stand_back, when_stopped
from workshops.people.uses import Used, record_uses

__all__ = [
    "PeopleRefused", "Used",
    "add_guardian", "add_person", "edit_person", "enter_sign_off", "hold_register", "lift_bar",
    "link_account", "look_at", "record_uses", "review", "set_bar", "set_lifetime", "sign_off",
    "sign_waiver", "walk_in", "when_stopped",
]  # fmt: skip

FIELDS = frozenset({
    "first_name", "last_name", "email", "phone", "born_on", "is_adult_declared", "no_dust",
    "seated_only", "no_heavy", "likes", "emergency_contact", "joined_on", "is_active", "note",
})  # fmt: skip


@transaction.atomic
def add_person(
    *, shop: Shop, fields: Mapping[str, Any], by: User | None, at: datetime | None = None
) -> Person:
    """Somebody new on the list.

    Raises
    ------
    UnknownField
        Naming a fact that is not kept of a person.
    PeopleRefused
        When a name is missing or a value cannot be; ``field`` says which.
    """
    at = at or timezone.now()
    return _write(Person(shop=shop, joined_on=at.astimezone(shop.zone).date()), fields, by, at)


@transaction.atomic
def edit_person(
    *, person: Person, fields: Mapping[str, Any], by: User | None, at: datetime | None = None
) -> Person:
    """The person with those facts changed, the others as they were.

    Raises
    ------
    UnknownField, PeopleRefused
        As ``add_person``.
    """
    hold_register(person.shop)
    row = _write(person, fields, by, at or timezone.now())
    if not row.is_active or {"born_on", "no_dust", "no_heavy", "seated_only"} & set(fields):
        stand_back(row)
    return row


@transaction.atomic
def link_account(*, person: Person, user: User | None, by: User | None) -> Person:
    """The account with which the person signs in, or none; it signs as that person.

    Raises
    ------
    PeopleRefused
        When the account is no member of the shop, or is somebody else's.
    """
    if is_erased(person):
        raise PeopleRefused("An erased entry has no account.", "user")
    if user is not None:
        if not user.memberships.filter(shop=person.shop).exists():
            raise PeopleRefused(f"Account: {user} may not sign in at this shop.", "user")
        # The database refuses it too, but could not say whose account it is.
        other = Person.objects.filter(user=user).exclude(pk=person.pk).first()
        if other:
            raise PeopleRefused(f"Account: {user} is {other}'s account.", "user")
    person.user, person.changed_by, person.changed_at = user, by, timezone.now()
    person.save(update_fields=["user", "changed_by", "changed_at"])
    return person


@transaction.atomic
def walk_in(
    *,
    shop: Shop,
    fields: Mapping[str, Any],
    waiver_version: str = "",
    by: User | None,
    at: datetime | None = None,
) -> Person:
    """Somebody who came in unannounced, with the waiver they signed at the door if any.

    Raises
    ------
    UnknownField, PeopleRefused
        As ``add_person``; then no waiver is kept either.
    """
    at = at or timezone.now()
    person = add_person(shop=shop, fields=fields, by=by, at=at)
    if waiver_version:
        today = at.astimezone(shop.zone).date()
        sign_waiver(person=person, version=waiver_version, on=today, by=by, at=at)
    return person


@transaction.atomic
def sign_waiver(
    *,
    person: Person,
    version: str,
    on: date,
    valid_until: date | None = None,
    by: User | None,
    at: datetime | None = None,
) -> Waiver:
    """The waiver a person signed; it counts for the club's months unless a day is given.

    Raises
    ------
    DayRefused
        When it is signed on a day to come, or ends before it begins.
    PeopleRefused
        When it is not said which wording was signed.
    """
    today = (at or timezone.now()).astimezone(person.shop.zone).date()
    if not version.strip():
        raise PeopleRefused("Version: write which wording of the waiver was signed.", "version")
    if on > today:
        raise DayRefused("Signed on: that day is still to come.", "on")
    valid_until = valid_until or last_day(on, rules_of(person.shop).waiver_months)
    if valid_until < on:
        raise DayRefused("Valid until: that is before it was signed.", "valid_until")
    return Waiver.objects.create(
        shop=person.shop, person=person, version=version.strip(), signed_on=on,
        valid_until=valid_until, recorded_by=by,
    )  # fmt: skip


@transaction.atomic
def add_guardian(
    *,
    minor: Person,
    guardian: Person,
    consent_on: date | None = None,
    may_collect: bool = True,
    by: User | None,
    at: datetime | None = None,
) -> Guardianship:
    """A grown-up who answers for a minor; named again, the consent and collecting change.

    Raises
    ------
    NotOfThisShop
        When the two are not on one list.
    GuardianRefused
        When the ward counts as an adult, or the guardian does not.
    DayRefused
        When the consent is dated on a day to come.
    """
    today = (at or timezone.now()).astimezone(minor.shop.zone).date()
    if minor.shop_id != guardian.shop_id:
        raise NotOfThisShop(f"{guardian} is not on the list of this shop.", "guardian")
    adult_age = rules_of(minor.shop).adult_age
    if minor.is_adult_on(today, adult_age):
        raise GuardianRefused(f"{minor} counts as an adult and needs no guardian.")
    if not guardian.is_adult_on(today, adult_age):
        raise GuardianRefused(
            f"{guardian} does not count as an adult: write down the date of birth first.",
            "guardian",
        )
    if consent_on and consent_on > today:
        raise DayRefused("Consent signed on: that day is still to come.", "consent_on")
    # Named again because the consent came on paper a week later: one row, or both would count.
    row, _ = Guardianship.objects.update_or_create(
        minor=minor,
        guardian=guardian,
        defaults={
            "shop": minor.shop,
            "consent_on": consent_on,
            "may_collect": may_collect,
            "recorded_by": by,
        },
    )
    return row


def _write(person: Person, fields: Mapping[str, Any], by: User | None, at: datetime) -> Person:
    if person.merged_into_id:
        raise PeopleRefused(f"This entry was joined with that of {person.merged_into}.")
    if person.pk and is_erased(person):
        raise PeopleRefused(f"No. {person.pk} was erased: put whoever comes on the list anew.")
    for name in fields:
        # A list of what may be set, so that no form reaches the account, the shop or who changed
        # it.
        if name not in FIELDS:
            raise UnknownField(f"{name} is not kept of a person.", name)
    # Likes are rows of their own, and a new person has no number yet to hang them on.
    plain = {name: value for name, value in fields.items() if name != "likes"}
    for name, value in plain.items():
        setattr(person, name, value)
    person.changed_by, person.changed_at = by, at
    _check(person, at)
    person.save()
    if "likes" in fields:
        _like(person, fields["likes"])
    return person


def _check(person: Person, at: datetime) -> None:
    if not person.first_name.strip():
        raise PeopleRefused("First name: write what people call them.", "first_name")
    if person.born_on and person.born_on > at.astimezone(person.shop.zone).date():
        raise DayRefused("Date of birth: that day is still to come.", "born_on")
    try:
        person.full_clean(exclude=["shop", "user", "changed_by"])
    except ValidationError as error:
        # One at a time: the form checks fields together, and this is for commands and files.
        field, sentences = next(iter(error.message_dict.items()))
        label = field.replace("_", " ").capitalize()
        raise PeopleRefused(f"{label}: {sentences[0]}", field) from error


def _like(person: Person, stations: Any) -> None:
    liked = list(stations)
    if any(station.shop_id != person.shop_id for station in liked):
        raise NotOfThisShop("Likes: choose stations of this shop.", "likes")
    person.likes.set(liked)
