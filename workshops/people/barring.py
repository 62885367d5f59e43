"""Bars and suspensions: in force the moment they are set, lifted by somebody else."""

from __future__ import annotations

from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from workshops.access.models import User
from workshops.people.models import Bar, Person
from workshops.people.refusals import (
    AlreadyBarred,
    DayRefused,
    LiftsOwnBar,
    NotBarred,
    NotOfThisShop,
    PeopleRefused,
)
from workshops.people.stops import hold_register, stand_back
from workshops.stations.models import Level, Station


@transaction.atomic
def set_bar(
    *,
    person: Person,
    reason: str,
    station: Station | None = None,
    until: date | None = None,
    only_with_a_lead: bool = False,
    set_by: str = "",
    by: User | None,
    at: datetime | None = None,
) -> Bar:
    """A bar from one station, or from everywhere, in force at once.

    It holds until it is lifted, or to the end of the day ``until``. With ``only_with_a_lead``
    the person may go on at that station beside a lead. Where they stand against it in a
    night to come, they are taken out of the plan.

    Raises
    ------
    PeopleRefused
        When there is no reason, nobody who set it, or no station at which a lead is to be seen.
    NotOfThisShop
        When the station is of another shop.
    DayRefused
        When it would end before it begins.
    AlreadyBarred
        When the same bar is in force.
    """
    at = at or timezone.now()
    name = set_by.strip() or spell_user(by)
    hold_register(person.shop)
    _check(person, station, reason, name=name, only_with_a_lead=only_with_a_lead)
    today = at.astimezone(person.shop.zone).date()
    if until is not None and until < today:
        raise DayRefused("Until: that day is over.", "until")
    _check_new(person, station, today, only_with_a_lead=only_with_a_lead)
    bar = Bar.objects.create(
        # Sentences of the gate put a full stop behind the reason.
        shop=person.shop, person=person, station=station, reason=reason.strip().rstrip("."),
        until=until, only_with_a_lead=only_with_a_lead, set_by=name, set_at=at,
    )  # fmt: skip
    stand_back(person)
    return bar


def _check(
    person: Person, station: Station | None, reason: str, *, name: str, only_with_a_lead: bool
) -> None:
    if not reason.strip():
        raise PeopleRefused("Reason: write what happened, in a few words.", "reason")
    if not name:
        raise PeopleRefused("Set by: write who set the bar.", "set_by")
    if station is not None and station.shop_id != person.shop_id:
        raise NotOfThisShop(f"{station} is not a station of this shop.", "station")
    if only_with_a_lead and station is None:
        raise PeopleRefused("From: choose the station at which they see a lead.", "station")
    if only_with_a_lead and station and (station.level_needed or 0) < Level.WITH_A_LEAD:
        raise PeopleRefused(f"{station} has no leads: bar them from it instead.", "station")


def _check_new(
    person: Person, station: Station | None, today: date, *, only_with_a_lead: bool
) -> None:
    same = Bar.objects.filter(
        person=person, station=station, only_with_a_lead=only_with_a_lead, lifted_at__isnull=True
    )
    # One that ended by itself stands unlifted in the register, and stops nobody.
    if any(bar.until is None or bar.until >= today for bar in same):
        where = f"from {station}" if station else "from every station"
        kept = f"kept beside a lead at {station}" if only_with_a_lead else f"barred {where}"
        raise AlreadyBarred(f"{person} is {kept} already.")


@transaction.atomic
def lift_bar(*, bar: Bar, lifted_by: str = "", by: User | None, at: datetime | None = None) -> Bar:
    """The bar ends now; the register keeps that it was.

    Raises
    ------
    NotBarred
        When it was lifted before.
    LiftsOwnBar
        When the person barred would lift it.
    PeopleRefused
        When it is not said who lifts it.
    """
    # Read anew under a lock: two people may lift one bar, and only one name is kept.
    row = Bar.objects.select_for_update().get(pk=bar.pk)
    name = lifted_by.strip() or spell_user(by)
    if row.lifted_at:
        raise NotBarred(f"The bar was lifted before, by {row.lifted_by}.")
    if not name:
        raise PeopleRefused("Lifted by: write who lifts the bar.", "lifted_by")
    # Whatever their role: a coordinator is barred like anybody else.
    if by is not None and row.person.user_id == by.pk:
        raise LiftsOwnBar("Nobody lifts a bar that stops themselves: ask somebody else.")
    row.lifted_at, row.lifted_by = at or timezone.now(), name
    row.save(update_fields=["lifted_at", "lifted_by"])
    return row


def spell_user(user: User | None) -> str:
    """The user's name as the register keeps it; empty for nobody."""
    return user.signs_as if user else ""
