"""Somebody at the door whom nobody knows: on the list and on the roll with one tap."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import transaction

from workshops.access.models import User
from workshops.nights.actions.group import years_before
from workshops.nights.actions.opened import check_open, hold
from workshops.nights.actions.roll import SignedIn, sign_in
from workshops.nights.models import Night, RollLine
from workshops.people import actions as people


@dataclass(frozen=True, slots=True)
class WalkIn:
    """What is told at the door. Without an age, who is no grown-up counts as the youngest."""

    first_name: str
    last_name: str = ""
    is_adult: bool = False
    age: int | None = None
    has_signed: bool = False  # the waiver lies on the table, signed


@transaction.atomic
def walk_in(
    *,
    night: Night,
    told: WalkIn,
    by: User | None,
    at: datetime,
    client_key: UUID | None = None,
) -> SignedIn:
    """Put somebody new on the list and on the roll; sent again with its key, it is the same.

    Raises
    ------
    NightRefused
        When the night is over or cancelled.
    workshops.people.refusals.PeopleRefused
        When the name cannot be.
    """
    check_open(night)
    hold(night)
    known = RollLine.objects.filter(night=night, in_key=client_key) if client_key else None
    line = known.select_related("person").first() if known is not None else None
    if line is not None:
        return SignedIn(line, ())
    today = at.astimezone(night.shop.zone).date()
    person = people.walk_in(
        shop=night.shop, fields=_fields(told) | _age(told, at, night),
        waiver_version=str(today.year) if told.has_signed else "", by=by, at=at,
    )  # fmt: skip
    return sign_in(night=night, person=person, at=at, client_key=client_key)


def _fields(told: WalkIn) -> dict[str, Any]:
    return {
        "first_name": told.first_name.strip(),
        "last_name": told.last_name.strip(),
        "is_adult_declared": told.is_adult,
    }


def _age(told: WalkIn, at: datetime, night: Night) -> dict[str, Any]:
    if told.is_adult or told.age is None:
        return {}
    today = at.astimezone(night.shop.zone).date()
    note = f"Date of birth reckoned from the age told at the door, {told.age}."
    return {"born_on": years_before(today, told.age), "note": note}
