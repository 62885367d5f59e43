"""Whom to call for everybody in the building: one press, one look written down for each."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from inventory.places.models import Shop
from tests import factories
from workshops.access.models import User
from workshops.nights.actions import sign_in
from workshops.people.models import Look

ROLL = "/teal-point/nights/2026-01-14/roll/"


@pytest.fixture
def inside(shop: Shop, clock: Any) -> None:
    """Two people in the building, and a third who is not."""
    night = factories.make_night(shop)
    for name in ("Ida", "Odd"):
        person = factories.make_person(shop, first_name=name, emergency_contact=f"Kin of {name}")
        sign_in(night=night, person=person, at=timezone.now())
    factories.make_person(shop, first_name="Una", emergency_contact="Kin of Una")


def test_one_press_shows_all_who_are_in_and_writes_a_look_for_each(
    inside: None, duty_lead: User, client_of: Callable[[User], Client]
) -> None:
    shown = client_of(duty_lead).post(f"{ROLL}contacts/").content.decode()
    assert "Kin of Ida" in shown
    assert "Kin of Odd" in shown
    assert "Kin of Una" not in shown
    looks = Look.objects.values_list("person__first_name", "page")
    assert set(looks) == {
        ("Ida", "everybody in the building"),
        ("Odd", "everybody in the building"),
    }


def test_the_roll_itself_shows_no_contact(
    inside: None, duty_lead: User, client_of: Callable[[User], Client]
) -> None:
    shown = client_of(duty_lead).get(ROLL).content.decode()
    assert "Kin of" not in shown
    assert "Something happened: whom do we call?" in shown


def test_twice_as_many_take_no_more_queries(
    inside: None, duty_lead: User, client_of: Callable[[User], Client],
    django_assert_max_num_queries: Any,
) -> None:  # fmt: skip
    client = client_of(duty_lead)
    with django_assert_max_num_queries(12):
        client.post(f"{ROLL}contacts/")
