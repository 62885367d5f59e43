"""A no that closes a station is told to whoever runs the night, and nobody else."""

from __future__ import annotations

import pytest

from tests.factories import make_person, make_sign_off, make_waiver
from workshops.nights.board import board_for
from workshops.nights.lost import lost_by_a_no
from workshops.nights.models import SignUp

pytestmark = pytest.mark.django_db

TOLD = "Bo R. said no, and nobody else who comes may work at Weld."


def say_no(scene, name: str) -> None:
    SignUp.objects.filter(person=scene.people[name]).update(answer="no")


def test_the_only_welders_no_closes_welding_and_names_whom_to_ask(scene, lead, page) -> None:
    welder = make_person(scene.shop, first_name="Wim", last_name="Tor")
    make_waiver(welder)
    make_sign_off(welder, scene.weld)
    say_no(scene, "Bo")
    assert f"{TOLD} Ask Wim T." in lead.get(page("night")).content.decode()


def test_a_no_where_another_comes_closes_nothing(scene) -> None:
    make_sign_off(scene.people["Ada"], scene.weld)
    say_no(scene, "Bo")
    assert lost_by_a_no(board_for(scene.night)) == []


def test_nobody_said_no_and_nothing_is_lost_though_a_station_is_closed(scene) -> None:
    SignUp.objects.filter(person=scene.people["Bo"]).delete()
    assert lost_by_a_no(board_for(scene.night)) == []


def test_a_no_of_somebody_who_came_after_all_closes_nothing(scene, lead, page) -> None:
    say_no(scene, "Bo")
    lead.post(page("sign_in"), {"person": scene.people["Bo"].pk})
    assert lost_by_a_no(board_for(scene.night)) == []


def test_a_volunteer_is_not_told_whose_no_it_was(scene, guest, page) -> None:
    say_no(scene, "Bo")
    assert TOLD not in guest.get(page("night")).content.decode()
