"""A small register for the pages."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client

from inventory.places.models import Shop
from tests.factories import make_person, make_sign_off, make_station, make_waiver
from workshops.access.models import User
from workshops.people.models import Person
from workshops.stations.models import Level, Station

ClientOf = Callable[[User], Client]


@pytest.fixture(autouse=True)
def _clock(clock: object) -> None:
    """Every page of these tests is looked at on the same evening."""


@pytest.fixture
def drill(shop: Shop) -> Station:
    """A station for people signed off to work alone."""
    return make_station(shop, name="Drill", level_needed=Level.ALONE)


@pytest.fixture
def berta(shop: Shop, drill: Station, authoriser: User) -> Person:
    """The authoriser of the drill, who signs in as one."""
    person = make_person(shop, first_name="Berta", last_name="Signer", user=authoriser)
    make_waiver(person)
    make_sign_off(person, drill, Level.MAY_SIGN)
    return person


@pytest.fixture
def ada(shop: Shop) -> Person:
    """A newcomer with something private."""
    return make_person(
        shop, first_name="Ada", last_name="Lind", phone="555 0123", no_dust=True,
        emergency_contact="Lou, 555 0199",
    )  # fmt: skip
