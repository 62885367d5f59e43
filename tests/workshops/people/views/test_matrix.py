"""The sign-off matrix."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from inventory.places.models import Shop
from tests.factories import (
    make_bar,
    make_night,
    make_person,
    make_sign_off,
    make_sign_up,
    make_station,
    make_waiver,
)
from tests.workshops.people.views.conftest import ClientOf
from workshops.access.models import User
from workshops.people.models import Person
from workshops.stations.models import Level, Station

PAGE = "/teal-point/people/sign-offs/"


def test_a_level_is_a_word_and_a_lapse_is_dated(
    ada: Person, berta: Person, drill: Station, duty_lead: User, client_of: ClientOf
):
    make_sign_off(ada, drill, valid_until=date(2026, 2, 3))
    page = client_of(duty_lead).get(PAGE).content.decode()
    assert '<td class="l3 soon" data-at="Drill">alone<small>to 3 Feb</small></td>' in page
    assert '<td class="l5" data-at="Drill">signs</td>' in page


def test_lapsed_and_barred_are_said(
    ada: Person, berta: Person, drill: Station, duty_lead: User, client_of: ClientOf
):
    make_sign_off(ada, drill, valid_until=date(2026, 1, 13))
    make_bar(berta, drill)
    page = client_of(duty_lead).get(PAGE).content.decode()
    assert '<td class="gone" data-at="Drill">lapsed<small>13 Jan 2026</small></td>' in page
    assert '<td class="bar" data-at="Drill">barred</td>' in page
    assert 'class="nobody">nobody' in page  # nobody may work there, or sign others, now


def test_it_shows_only_who_comes_that_day(
    shop: Shop, ada: Person, berta: Person, drill: Station, duty_lead: User, client_of: ClientOf
):
    make_sign_up(make_night(shop), ada)
    answer = client_of(duty_lead).get(PAGE, {"show": "coming"}, headers={"hx-request": "true"})
    page = answer.content.decode()
    assert "Ada Lind" in page
    assert "Berta" not in page
    assert "<html" not in page


def test_it_shows_what_held_on_a_past_day(
    berta: Person, drill: Station, duty_lead: User, client_of: ClientOf
):
    page = client_of(duty_lead).get(PAGE, {"on": "2025-11-04"}).content.decode()
    assert "register of 4 Nov 2025" in page
    assert "signs</td>" not in page


FILTERS = ["lapsed", "lapsing", "nearly-ready", "barred", "coming", "minors"]


@pytest.mark.parametrize("show", FILTERS)
def test_every_filter_answers(berta: Person, duty_lead: User, client_of: ClientOf, show: str):
    assert client_of(duty_lead).get(PAGE, {"show": show}).status_code == 200


def test_an_empty_register_says_what_to_do_first(shop: Shop, duty_lead: User, client_of: ClientOf):
    assert "Add the stations first" in client_of(duty_lead).get(PAGE).content.decode()


def test_it_takes_twelve_queries_however_many_people_there_are(
    shop: Shop, duty_lead: User, client_of: ClientOf, django_assert_num_queries: Any
):
    client = client_of(duty_lead)
    make_night(shop)
    for _ in range(2):
        for _ in range(6):
            person, station = make_person(shop), make_station(shop, level_needed=Level.ALONE)
            make_waiver(person)
            make_bar(person, station)
            make_sign_off(person, station, valid_until=date(2026, 1, 20))
        with django_assert_num_queries(12):
            assert client.get(PAGE, {"show": "coming"}).status_code == 200
        with django_assert_num_queries(11):
            assert client.get(PAGE).status_code == 200


def test_volunteers_do_not_see_it(volunteer: User, client_of: ClientOf):
    assert client_of(volunteer).get(PAGE).status_code == 403
