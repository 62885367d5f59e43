"""Sign-offs: the only ways into the register. Nothing in it is edited later."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from workshops.access.models import User
from workshops.club.queries import rules_of
from workshops.people.days import spell_day
from workshops.people.gate import Doing, may
from workshops.people.lives import lives_of
from workshops.people.models import Person, Review, SignOff
from workshops.people.points import points_of
from workshops.people.refusals import (
    CannotSign,
    DayRefused,
    LevelRefused,
    NotOfThisShop,
    PeopleRefused,
    PointsMissing,
    SignsForHimself,
)
from workshops.people.stops import hold_register, stand_back
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
    evidence: str = "",
    points: Sequence[str] = (),
    by: User | None,
    at: datetime | None = None,
) -> SignOff:
    """A sign-off by an authoriser; it counts as long as the club has it unless a day is given.

    ``points`` are those of the station's list that were shown; they are kept as they read
    now. A lower level than before steps the person back from that day on.

    Raises
    ------
    CannotSign, SignsForHimself
        When the signer's own sign-off to sign others does not count on the day it is
        signed or today, or a bar stops him.
    LevelRefused
        When the club names its authorisers itself.
    PointsMissing
        When the club wants points ticked that are not, or one is not on the list any more.
    NotOfThisShop, DayRefused, PeopleRefused
        When something is of another shop, a day cannot be, or it is not said what was seen.
    """
    at = at or timezone.now()
    hold_register(station.shop)
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
    row = SignOff(person=person, station=station, level=level, signed_by=signed_by, signed_on=on)
    row.points = _ticked(station, level, points)
    if not evidence.strip() and not any(each["is_shown"] for each in row.points):
        raise PeopleRefused(
            "What was shown: tick what you saw, or write it in a few words.", "evidence"
        )
    return _record(row, valid_until, evidence=evidence, by=by, at=at)


def _ticked(station: Station, level: int, points: Sequence[str]) -> list[dict[str, object]]:
    """The station's list with what was shown; as it reads on this day."""
    listed, needed = points_of(station), rules_of(station.shop).points_needed
    if set(points) - set(listed):
        # A form that lay open while the card was rewritten: nobody was shown the new words.
        raise PointsMissing("Points: the station's list has changed. Tick it anew.", "points")
    left = [point for point in listed if point not in points]
    if needed == "all" and level >= Level.ALONE and left:
        raise PointsMissing(f"Points: not shown yet: {'; '.join(left)}", "points")
    if needed == "some" and listed and len(left) == len(listed):
        raise PointsMissing("Points: tick at least one that was shown.", "points")
    return [{"point": point, "is_shown": point in points} for point in listed]


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
    hold_register(station.shop)
    row = SignOff(person=person, station=station, level=level, signed_on=on)
    if not evidence.strip():
        raise PeopleRefused("Where it stands: name the register and the page.", "evidence")
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
    _check_days(row, at)
    today = at.astimezone(row.shop.zone).date()
    # By the rules of today: a day put on the paper brings no old rule back.
    longest = (
        lives_of(row.shop, rules_of(row.shop), today).at(row.station_id).longest(row.signed_on)
    )
    # Never longer than the club's rule, and shorter where the signer says so.
    row.valid_until = valid_until or longest
    _check_end(row, longest)
    row.save()
    # A step back, or a sign-off for less than before, takes people away as a bar does.
    stand_back(row.person)
    return row


def _check_end(row: SignOff, longest: date | None) -> None:
    ends = row.valid_until
    if ends is None or (row.signed_on <= ends and (longest is None or ends <= longest)):
        return
    to = f" to {spell_day(longest)}, as the club's rule has it" if longest else " on"
    raise DayRefused(
        f"Valid until: choose a day from {spell_day(row.signed_on)}{to}.", "valid_until"
    )


def _check_days(row: SignOff, at: datetime) -> None:
    if row.signed_on > at.astimezone(row.shop.zone).date():
        raise DayRefused("Signed on: that day is still to come.", "on")
    standing = SignOff.objects.exclude(reviews__verdict=Review.Verdict.MISTAKE)
    later = standing.filter(
        person=row.person, station=row.station, signed_on__gt=row.signed_on
    ).first()
    if later:
        # It would be replaced at once by the later one, and look as if it counted.
        raise DayRefused(
            f"Signed on: there is a sign-off of {spell_day(later.signed_on)} already; "
            "one that is older would not count.",
            "on",
        )
