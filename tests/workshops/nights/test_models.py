"""What the database itself refuses, and the nights' words."""

from __future__ import annotations

from datetime import time

import pytest
from django.db import IntegrityError

from tests.factories import make_night, make_person, make_sign_up
from workshops.nights.models import Block, HotWorkPermit, Night, Placing, RollLine, Tally


def test_a_night_is_called_by_its_day(shop) -> None:
    assert str(make_night(shop)) == "Wed Jan 14"


def test_a_shop_has_one_night_a_day(shop, other_shop) -> None:
    make_night(shop)
    make_night(other_shop)
    with pytest.raises(IntegrityError):
        make_night(shop)


@pytest.mark.parametrize("times", [{"doors": time(21)}, {"lock_up": time(20)}])
def test_times_out_of_order_are_refused(shop, times) -> None:
    with pytest.raises(IntegrityError):
        make_night(shop, **times)


def test_a_block_ends_after_it_starts(shop) -> None:
    night = make_night(shop, blocks=1)
    with pytest.raises(IntegrityError):
        Block.objects.create(night=night, index=7, starts=time(20), ends=time(20))


def test_a_person_answers_once_a_night(shop) -> None:
    night, person = make_night(shop), make_person(shop)
    make_sign_up(night, person)
    with pytest.raises(IntegrityError):
        make_sign_up(night, person)


def test_nobody_is_in_the_building_twice(scene) -> None:
    ada = scene.people["Ada"]
    RollLine.objects.create(night=scene.night, person=ada, in_at=scene.at("18:00"))
    with pytest.raises(IntegrityError):
        RollLine.objects.create(night=scene.night, person=ada, in_at=scene.at("18:05"))


def test_somebody_who_left_may_come_back(scene) -> None:
    ada = scene.people["Ada"]
    RollLine.objects.create(
        night=scene.night, person=ada, in_at=scene.at("18:00"), out_at=scene.at("18:30")
    )
    RollLine.objects.create(night=scene.night, person=ada, in_at=scene.at("19:00"))
    assert scene.night.roll.count() == 2


def placed(scene, **fields) -> Placing:
    usual = {"night": scene.night, "block": scene.blocks[0], "person": scene.people["Ada"]}
    return Placing.objects.create(**(usual | {"station": scene.drill} | fields))


def test_a_person_has_one_place_in_a_block(scene) -> None:
    placed(scene)
    with pytest.raises(IntegrityError):
        placed(scene, station=scene.tag)


def test_a_fire_watch_has_a_room_and_nobody_else_has(scene) -> None:
    with pytest.raises(IntegrityError):
        placed(scene, station=scene.watch, role=Placing.Role.WATCHES)


def test_a_tally_counts_something(scene) -> None:
    with pytest.raises(IntegrityError):
        Tally.objects.create(
            shop=scene.shop, night=scene.night, operation=scene.operations["drill"]
        )


def test_the_end_of_a_watch_cannot_stand_without_a_name(scene) -> None:
    with pytest.raises(IntegrityError):
        HotWorkPermit.objects.create(
            night=scene.night, watcher=scene.people["Cy"], watch_minutes=60, opened_by="Dov",
            watch_ended_at=scene.at("21:00"),
        )  # fmt: skip


def test_every_row_of_a_night_says_what_it_is(scene) -> None:
    permit = HotWorkPermit(night=scene.night)
    assert str(permit) == "Permit of Wed Jan 14"
    assert str(placed(scene)) == f"{scene.people['Ada']} at Drill"
    assert str(scene.blocks[0]) == "18:30–19:10"
    assert str(scene.night.sign_ups.first()).endswith("coming")
    assert Night.Kind.STEEL.label == "steel night"
