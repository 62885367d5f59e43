"""The home page: it works, for whom, and at what cost."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client
from pytest_django import DjangoAssertNumQueries

from inventory.places.models import Shop
from tests import factories
from workshops.access.models import User
from workshops.nights.actions import place

pytestmark = pytest.mark.usefixtures("clock")
ClientOf = Callable[[User], Client]


def test_home_asks_whether_we_can_run_tonight(
    shop: Shop, coordinator: User, client_of: ClientOf
) -> None:
    factories.make_night(shop)
    page = client_of(coordinator).get(f"/{shop.slug}/")
    assert "Can we run tonight?" in page.content.decode()


def test_an_empty_club_is_told_what_comes_first(
    shop: Shop, coordinator: User, client_of: ClientOf
) -> None:
    text = client_of(coordinator).get(f"/{shop.slug}/").content.decode()
    assert "What comes first?" in text
    assert "Name the rooms" in text
    assert "Setting up the shop" in text


def test_a_volunteer_sees_no_button_that_is_not_theirs(
    shop: Shop, volunteer: User, client_of: ClientOf
) -> None:
    text = client_of(volunteer).get(f"/{shop.slug}/").content.decode()
    assert "Name the rooms of the shop" in text
    for page in ("rooms/", "stock/needs/", "people/add/", "nights/add/"):
        assert f'href="/{shop.slug}/{page}"' not in text


def test_somebody_with_one_shop_is_sent_to_its_home(
    shop: Shop, volunteer: User, client_of: ClientOf
) -> None:
    answer = client_of(volunteer).get("/")
    assert answer.headers["Location"] == f"/{shop.slug}/"


def test_a_stranger_meets_nothing(shop: Shop, stranger: User, client_of: ClientOf) -> None:
    assert client_of(stranger).get(f"/{shop.slug}/").status_code == 404


def test_the_stations_are_checked_when_they_are_asked_for(
    shop: Shop, reader: User, client_of: ClientOf
) -> None:
    night = factories.make_night(shop)
    station = factories.make_station(shop, name="Riveting")
    person = factories.make_person(shop)
    factories.make_sign_up(night, person)
    answer = client_of(reader).get(f"/{shop.slug}/tonight/").content.decode()
    assert station.name in answer
    assert "closed" in answer


def test_why_somebody_may_not_work_is_told_to_leads_alone(
    shop: Shop, reader: User, duty_lead: User, client_of: ClientOf
) -> None:
    night, station = factories.make_night(shop), factories.make_station(shop, name="Riveting")
    person = factories.make_person(shop)
    factories.make_waiver(person)
    factories.make_sign_up(night, person)
    block = night.blocks.all()[0]
    place(night=night, block=block, person=person, station=station)
    factories.make_bar(person, station, reason="took the guard off")
    told = [
        client_of(user).get(f"/{shop.slug}/tonight/").content.decode()
        for user in (reader, duty_lead)
    ]
    assert ["to mend on the board" in text for text in told] == [True, True]
    assert ["took the guard off" in text for text in told] == [False, True]


def test_home_costs_the_same_however_much_there_is(
    shop: Shop, coordinator: User, client_of: ClientOf,
    django_assert_max_num_queries: DjangoAssertNumQueries,
) -> None:  # fmt: skip
    client, night = client_of(coordinator), factories.make_night(shop)
    for _ in range(2):
        for _ in range(10):
            factories.make_sign_up(night, factories.make_person(shop))
            factories.make_item(shop, keep_at_least=3)
        with django_assert_max_num_queries(15):
            client.get(f"/{shop.slug}/")
