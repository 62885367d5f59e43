"""Rooms and places are made once."""

from __future__ import annotations

from inventory.places.actions import add_place, add_room, floor_of
from inventory.places.models import Shop
from inventory.places.queries import places_of


def test_a_place_is_added_once(shop: Shop) -> None:
    room = add_room(shop=shop, name="Steel room")
    first = add_place(shop=shop, name=" Tube rack ", room=room, note="left of the door")
    assert add_place(shop=shop, name="Tube rack") == first
    assert [place.name for place in places_of(shop)] == ["Tube rack"]


def test_the_floor_is_made_when_it_is_first_needed(shop: Shop) -> None:
    assert not places_of(shop)
    assert floor_of(shop) == floor_of(shop)
    assert places_of(shop).count() == 1


def test_each_shop_has_its_own_places(shop: Shop, other_shop: Shop) -> None:
    add_place(shop=shop, name="Loft")
    assert not places_of(other_shop)
