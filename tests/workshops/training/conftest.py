"""A shop that trains: a drill with its learner, lead and authoriser, and nights ahead."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client

from inventory.places.models import Shop
from tests.factories import (
    TODAY,
    make_night,
    make_person,
    make_sign_off,
    make_sign_up,
    make_station,
    make_waiver,
)
from workshops.access.models import User
from workshops.nights.models import Night
from workshops.people.models import Person
from workshops.stations.models import Level, Station

ClientOf = Callable[[User], Client]


def ready(shop: Shop, name: str, **fields: Any) -> Person:
    """Somebody with a waiver, called Reed."""
    person = make_person(shop, first_name=name, last_name="Reed", **fields)
    make_waiver(person)
    return person


def week(number: int) -> date:
    """A Wednesday so many weeks from today."""
    return TODAY + timedelta(weeks=number)


@pytest.fixture
def drill(shop: Shop, clock: Any) -> Station:
    """A station for people signed off to work alone; two fit at its bench."""
    return make_station(shop, name="Drill", level_needed=Level.ALONE, crew_max=3, kind="drill")


@pytest.fixture
def ada(shop: Shop, drill: Station) -> Person:
    """May lead at the drill."""
    person = ready(shop, "Ada")
    make_sign_off(person, drill, Level.MAY_LEAD)
    return person


@pytest.fixture
def eli(shop: Shop, drill: Station) -> Person:
    """Learns at the drill."""
    person = ready(shop, "Eli")
    make_sign_off(person, drill, Level.WITH_A_LEAD)
    return person


@pytest.fixture
def arno(shop: Shop, drill: Station, authoriser: User) -> Person:
    """May sign others at the drill, and has the authoriser's account."""
    person = ready(shop, "Arno", user=authoriser, email="arno@example.org")
    make_sign_off(person, drill, Level.MAY_SIGN)
    return person


@pytest.fixture
def nights(shop: Shop) -> list[Night]:
    """Tonight and three Wednesdays more."""
    return [make_night(shop, date=week(number)) for number in range(4)]


@pytest.fixture
def say_yes(nights: list[Night]) -> Callable[..., None]:
    """Have people come on some of the nights, all of them unless told."""

    def say(*people: Person, on: tuple[int, ...] = (0, 1, 2, 3)) -> None:
        for person in people:
            for number in on:
                make_sign_up(nights[number], person)

    return say
