"""What is private to a person is behind a press, and every look is written down."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.test import Client

from inventory.places.models import Shop
from tests import factories
from workshops.access.models import User
from workshops.people.looks import looks_at, looks_in
from workshops.people.models import Look, Person

ClientOf = Callable[[User], Client]
PRIVATE = ("555 0142", "wren@club.example", "Aunt Sedge", "no dust", "15 years", "shy of noise")


@pytest.fixture
def wren(shop: Shop, clock: Any) -> Person:
    """Fifteen, with everything the club may keep of somebody."""
    return factories.make_person(
        shop, first_name="Wren", last_name="Alder", phone="555 0142", email="wren@club.example",
        born_on=date(2010, 6, 1), emergency_contact="Aunt Sedge 555 0177", no_dust=True,
        note="shy of noise",
    )  # fmt: skip


def page_of(person: Person, more: str = "") -> str:
    return f"/teal-point/people/{person.pk}/{more}"


def test_the_page_of_a_person_shows_nothing_private(
    wren: Person, duty_lead: User, client_of: ClientOf
) -> None:
    factories.make_station(wren.shop, age_min=18)
    shown = client_of(duty_lead).get(page_of(wren)).content.decode()
    assert [each for each in PRIVATE if each in shown] == []
    assert "Show what is private" in shown
    assert Look.objects.count() == 0


def test_a_press_shows_it_and_writes_down_who_looked(
    wren: Person, duty_lead: User, client_of: ClientOf
) -> None:
    shown = client_of(duty_lead).post(page_of(wren, "private/")).content.decode()
    assert [each for each in PRIVATE if each not in shown] == []
    look = looks_at(wren).get()
    assert (look.seen_by, look.user, look.page) == ("Dov", duty_lead, "the page of the person")
    assert look.in_words.startswith("phone, e-mail, date of birth or age")


def test_a_press_with_scripts_gets_the_panel_alone(
    wren: Person, duty_lead: User, client_of: ClientOf
) -> None:
    answer = client_of(duty_lead).post(page_of(wren, "private/"), headers={"HX-Request": "true"})
    assert "<html" not in answer.content.decode()
    assert "Aunt Sedge" in answer.content.decode()


def test_a_link_cannot_look(wren: Person, duty_lead: User, client_of: ClientOf) -> None:
    assert client_of(duty_lead).get(page_of(wren, "private/")).status_code == 405


def test_an_authoriser_is_offered_no_press(
    wren: Person, authoriser: User, client_of: ClientOf
) -> None:
    client = client_of(authoriser)
    assert "Show what is private" not in client.get(page_of(wren)).content.decode()
    assert client.post(page_of(wren, "private/")).status_code == 403
    assert Look.objects.count() == 0


def test_opening_the_form_with_everything_is_a_look(
    wren: Person, coordinator: User, client_of: ClientOf
) -> None:
    client_of(coordinator).get(page_of(wren, "edit/"))
    assert looks_at(wren).get().page == "the form to change it"


def test_reading_ones_own_details_is_not_written_down(
    wren: Person, duty_lead: User, client_of: ClientOf
) -> None:
    Person.objects.filter(pk=wren.pk).update(user=duty_lead)
    client_of(duty_lead).post(page_of(wren, "private/"))
    assert not looks_at(wren).exists()


def test_the_coordinator_reads_who_looked(
    wren: Person, coordinator: User, duty_lead: User, client_of: ClientOf
) -> None:
    client_of(duty_lead).post(page_of(wren, "private/"))
    shown = client_of(coordinator).get(page_of(wren, "looks/")).content.decode()
    assert "Dov" in shown
    assert "14 Jan 2026, 18:00" in shown


def test_the_looks_of_a_page_are_one_query_however_many(
    wren: Person, coordinator: User, client_of: ClientOf, django_assert_num_queries: Any
) -> None:
    client = client_of(coordinator)
    for _ in range(3):
        client.post(page_of(wren, "private/"))
    with django_assert_num_queries(1):
        assert len([look.seen_by for look in looks_at(wren)]) == 3
    with django_assert_num_queries(1):
        assert len([str(look) for look in looks_in(wren.shop)]) == 3


def test_the_administration_shows_none_of_it(
    wren: Person, client: Client, django_user_model: Any
) -> None:
    client.force_login(django_user_model.objects.create_superuser("root", password="x"))
    answer = client.get(f"/admin/people/person/{wren.pk}/change/")
    assert answer.status_code == 200
    assert [each for each in PRIVATE if each in answer.content.decode()] == []
