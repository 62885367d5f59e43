"""Rooms, and what is made at a station."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client

from inventory.places.models import Room, Shop
from tests.factories import make_item, make_operation, make_recipe, make_room, make_station
from tests.workshops.stations.views.conftest import ClientOf
from workshops.access.models import User
from workshops.stations.actions import set_parts_list
from workshops.stations.models import Operation

ROOMS, ADD = "/teal-point/rooms/", "/teal-point/stations/add/"


@pytest.fixture
def browser(coordinator: User, client_of: ClientOf) -> Client:
    return client_of(coordinator)


def test_a_room_is_named_once_though_it_is_sent_twice(shop: Shop, browser: Client) -> None:
    for _ in range(2):
        assert browser.post(ROOMS, {"name": " Steel room "}).status_code == 302
    assert [room.name for room in Room.objects.filter(shop=shop)] == ["Steel room"]


def test_a_room_without_a_name_is_not_kept(shop: Shop, browser: Client) -> None:
    answer = browser.post(ROOMS, {"name": "  "})
    assert answer.status_code == 422
    assert not Room.objects.exists()


def test_a_shop_without_rooms_is_led_to_the_rooms_first(shop: Shop, browser: Client) -> None:
    answer = browser.get(ADD, follow=True)
    assert answer.redirect_chain[-1][0] == ROOMS
    assert "Name a room first" in answer.content.decode()


def test_rooms_of_another_shop_are_no_rooms_here(
    shop: Shop, other_shop: Shop, browser: Client
) -> None:
    make_room(other_shop, name="Elsewhere")
    assert browser.get(ADD).status_code == 302
    assert "Elsewhere" not in browser.get(ROOMS).content.decode()


def test_without_parts_lists_the_coordinator_is_led_to_the_stock(
    shop: Shop, browser: Client
) -> None:
    station = make_station(shop)
    answer = browser.get(f"/teal-point/stations/{station.pk}/operations/add/", follow=True)
    assert "give it a parts list" in answer.content.decode()


def test_an_operation_is_a_parts_list_with_a_time(shop: Shop, browser: Client) -> None:
    station, recipe = make_station(shop), make_recipe(make_item(shop))
    sent = {"name": "Bend rods", "recipe": recipe.pk, "minutes_per_piece": "2.5", "sequence": 1,
            "is_in_use": "on", "check_every": 0}  # fmt: skip
    answer = browser.post(f"/teal-point/stations/{station.pk}/operations/add/", sent)
    assert answer.status_code == 302
    made = Operation.objects.get()
    assert (made.station, made.recipe, made.slug) == (station, recipe, "bend-rods")


@pytest.mark.parametrize("minutes", ["", "soon", "-1", "0", "99999999"])
def test_a_time_that_is_none_names_its_field_and_keeps_nothing(
    shop: Shop, browser: Client, minutes: str
) -> None:
    station, recipe = make_station(shop), make_recipe(make_item(shop))
    sent = {"name": "Bend", "recipe": recipe.pk, "minutes_per_piece": minutes, "sequence": 1}
    answer = browser.post(f"/teal-point/stations/{station.pk}/operations/add/", sent)
    assert answer.status_code == 422
    assert "minutes_per_piece" in answer.context["form"].errors
    assert not Operation.objects.exists()


def test_a_second_operation_of_one_name_is_refused(shop: Shop, browser: Client) -> None:
    station = make_station(shop)
    make_operation(station, name="Bend", slug="bend")
    sent = {"name": "Bend", "recipe": make_recipe(make_item(shop)).pk, "sequence": 0,
            "minutes_per_piece": "1", "check_every": 0}  # fmt: skip
    answer = browser.post(f"/teal-point/stations/{station.pk}/operations/add/", sent)
    assert "is called that already" in str(answer.context["form"].errors["name"])


def test_an_operation_of_another_shop_is_not_found(
    shop: Shop, other_shop: Shop, browser: Client
) -> None:
    foreign = make_operation(make_station(other_shop))
    assert browser.get(f"/teal-point/operations/{foreign.pk}/").status_code == 404


def test_an_operation_keeps_its_address_when_it_is_renamed(shop: Shop, browser: Client) -> None:
    made = make_operation(make_station(shop))
    sent = {"name": "Shear", "recipe": made.recipe_id, "minutes_per_piece": "3", "sequence": 2,
            "is_in_use": "on", "check_every": 0}  # fmt: skip
    browser.post(f"/teal-point/operations/{made.pk}/", sent)
    kept = Operation.objects.get()
    assert (kept.name, kept.slug, kept.minutes_per_piece) == ("Shear", made.slug, Decimal(3))


def test_an_operation_follows_the_new_parts_list(shop: Shop) -> None:
    made = make_operation(make_station(shop))
    now = set_parts_list(output=made.recipe.output, parts=[])
    made.refresh_from_db()
    assert made.recipe == now
