"""Sign-offs and bars: the only ways into the register. Nothing in it is edited later."""

from __future__ import annotations

from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from workshops.access.models import User
from workshops.club.queries import rules_of
from workshops.people.days import last_day, spell_day
from workshops.people.gate import Doing, may
from workshops.people.models import Bar, Person, SignOff
from workshops.people.refusals import (
    AlreadyBarred,
    CannotSign,
    DayRefused,
    LevelRefused,
    LiftsOwnBar,
    NotBarred,
    NotOfThisShop,
    PeopleRefused,
    SignsForHimself,
)
from workshops.stations.models import Level, Station


@transaction.atomic
def sign_off(
    *,
    person: Person,
    station: Station,
    level: int,
    signed_by: Person,
    on: date,
    valid_until: date | None = None,
    evidence: str,
    by: User | None,
    at: datetime | None = None,
) -> SignOff:
    """A sign-off by an authoriser; it counts for the club's months unless a day is given.

    A lower level than before steps the person back from that day on.

    Raises
    ------
    CannotSign, SignsForHimself
        When the signer's own sign-off to sign others does not count on the day it is
        signed or today, or a bar stops him.
    LevelRefused
        When the club names its authorisers itself.
    NotOfThisShop, DayRefused, PeopleRefused
        When something is of another shop, a day cannot be, or it is not said what was seen.
    """
    at = at or timezone.now()
    if signed_by == person:
        raise SignsForHimself(f"{person} cannot sign for themselves: ask another authoriser.")
    # Both days: a signer barred since cannot put an earlier day on the paper.
    for day in {on, at.astimezone(station.shop.zone).date()}:
        answer = may(signed_by, station, day, doing=Doing.SIGNS)
        if not answer.ok:
            reason = answer.reasons[0]
            raise CannotSign(f"{reason.text} {reason.remedy}", answer.reasons)
    if level == Level.MAY_SIGN and rules_of(station.shop).signers_named_by == "club":
        raise LevelRefused(
            "Level: this club names its authorisers itself; a coordinator enters them.", "level"
        )
    return _record(
        SignOff(person=person, station=station, level=level, signed_by=signed_by, signed_on=on),
        valid_until, evidence=evidence, by=by, at=at,
    )  # fmt: skip


@transaction.atomic
def enter_sign_off(
    *,
    person: Person,
    station: Station,
    level: int,
    on: date,
    valid_until: date | None = None,
    evidence: str,
    by: User | None,
    at: datetime | None = None,
) -> SignOff:
    """A sign-off taken over from the club's own paper register: how a first authoriser comes in.

    ``evidence`` says where it stands: "register of 2025, page 4, signed by the board".

    Raises
    ------
    NotOfThisShop, DayRefused, LevelRefused, PeopleRefused
        As ``sign_off``.
    """
    row = SignOff(person=person, station=station, level=level, signed_on=on)
    return _record(row, valid_until, evidence=evidence, by=by, at=at or timezone.now())


def _record(
    row: SignOff, valid_until: date | None, *, evidence: str, by: User | None, at: datetime
) -> SignOff:
    row.shop, row.evidence = row.station.shop, evidence.strip()
    row.recorded_by, row.recorded_at = by, at
    if row.person.shop_id != row.station.shop_id:
        raise NotOfThisShop(f"{row.person} is not on the list of this shop.", "person")
    if row.level not in Level.values:
        raise LevelRefused("Level: choose one of the list.", "level")
    if not row.evidence:
        raise PeopleRefused("What was shown: write what you saw them do.", "evidence")
    _check_days(row, at)
    longest = last_day(row.signed_on, rules_of(row.shop).sign_off_months)
    # Never longer than the club's rule, and shorter where the signer says so.
    row.valid_until = valid_until or longest
    if not row.signed_on <= row.valid_until <= longest:
        raise DayRefused(
            f"Valid until: choose a day from {spell_day(row.signed_on)} to {spell_day(longest)}, "
            "as the club's rule has it.",
            "valid_until",
        )
    row.save()
    return row


def _check_days(row: SignOff, at: datetime) -> None:
    if row.signed_on > at.astimezone(row.shop.zone).date():
        raise DayRefused("Signed on: that day is still to come.", "on")
    later = SignOff.objects.filter(
        person=row.person, station=row.station, signed_on__gt=row.signed_on
    ).first()
    if later:
        # It would be replaced at once by the later one, and look as if it counted.
        raise DayRefused(
            f"Signed on: there is a sign-off of {spell_day(later.signed_on)} already; "
            "one that is older would not count.",
            "on",
        )


@transaction.atomic
def set_bar(
    *,
    person: Person,
    reason: str,
    station: Station | None = None,
    set_by: str = "",
    by: User | None,
    at: datetime | None = None,
) -> Bar:
    """A bar from one station, or from everywhere, in force at once.

    Raises
    ------
    PeopleRefused
        When there is no reason, or nobody who set it.
    NotOfThisShop
        When the station is of another shop.
    AlreadyBarred
        When the same bar is in force.
    """
    name = set_by.strip() or spell_user(by)
    if not reason.strip():
        raise PeopleRefused("Reason: write what happened, in a few words.", "reason")
    if not name:
        raise PeopleRefused("Set by: write who set the bar.", "set_by")
    if station is not None and station.shop_id != person.shop_id:
        raise NotOfThisShop(f"{station} is not a station of this shop.", "station")
    if Bar.objects.filter(person=person, station=station, lifted_at__isnull=True).exists():
        where = f"from {station}" if station else "from every station"
        raise AlreadyBarred(f"{person} is barred {where} already.")
    return Bar.objects.create(
        # Sentences of the gate put a full stop behind the reason.
        shop=person.shop, person=person, station=station, reason=reason.strip().rstrip("."),
        set_by=name, set_at=at or timezone.now(),
    )  # fmt: skip


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
    return (user.get_full_name() or user.username) if user else ""
