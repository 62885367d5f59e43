"""How long a sign-off counts at one station: the club's decision, and back to the general rules."""

from __future__ import annotations

from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from workshops.access.models import User
from workshops.club.rule import RuleRefused
from workshops.club.rulebook import RULE
from workshops.people.models import Lifetime
from workshops.people.refusals import DayRefused, PeopleRefused
from workshops.people.stops import hold_register
from workshops.stations.models import Station


@transaction.atomic
def set_lifetime(
    *,
    station: Station,
    months: int | None = None,
    ends_on: str | None = None,
    unused_months: int | None = None,
    decided_by: str,
    decided_on: date,
    source: str,
    by: User | None,
    at: datetime | None = None,
) -> Lifetime:
    """What the club decided for one station; nothing of the three: its general rules again.

    What was signed before keeps the day on which it ends; a lapse without use is asked anew
    each day, so that part holds for everybody from the day of the decision.

    Raises
    ------
    PeopleRefused
        When nobody decided it, from nothing, or a value cannot be.
    DayRefused
        When it was decided on a day still to come.
    """
    at = at or timezone.now()
    if not decided_by.strip():
        raise PeopleRefused("Decided by: write who decided it.", "decided_by")
    if not source.strip():
        raise PeopleRefused("From what: write the code, policy or meeting.", "source")
    if decided_on > at.astimezone(station.shop.zone).date():
        raise DayRefused("Decided on: that day is still to come.", "decided_on")
    _check_values(months=months, ends_on=ends_on, unused_months=unused_months)
    hold_register(station.shop)
    return Lifetime.objects.create(
        shop=station.shop, station=station, months=months, ends_on=ends_on or "",
        unused_months=unused_months, decided_by=decided_by.strip(), decided_on=decided_on,
        source=source.strip(), recorded_at=at, recorded_by=by,
    )  # fmt: skip


def _check_values(*, months: int | None, ends_on: str | None, unused_months: int | None) -> None:
    asked = (
        ("months", "sign_off_months", months),
        ("ends_on", "sign_off_ends", ends_on or None),
        ("unused_months", "lapse_unused_months", unused_months),
    )
    for field, key, value in asked:
        try:
            if value is not None:
                RULE[key].check(value)
        except RuleRefused as refused:
            raise PeopleRefused(refused.reason, field) from refused
