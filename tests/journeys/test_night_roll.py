"""Thirty-one come, one deaf to the alarm: all stand on the roll, with network or without."""

from __future__ import annotations

from uuid import uuid4

import pytest

from tests.factories import make_minor, make_person
from tests.workshops.nights.scene import make_scene
from workshops.nights import actions
from workshops.nights.actions.group import Member, NewGroup, sign_up_group
from workshops.nights.models import AlarmHand, RollLine

pytestmark = pytest.mark.django_db
ROLL = "/teal-point/nights/2026-01-14/roll/"


@pytest.fixture
def scene(shop, clock):
    return make_scene(shop)


@pytest.fixture
def client(duty_lead, client_of):
    return client_of(duty_lead)


def test_thirty_one_came_and_the_roll_takes_them_all(scene, client) -> None:
    people = [make_person(scene.shop, first_name=f"P{n}") for n in range(31)]
    actions.sign_in_all(night=scene.night, people=people, at=scene.at("18:00"))
    assert "31 in now" in client.get(ROLL).content.decode()
    assert "31 in the building." in client.get(f"{ROLL}evacuation/").content.decode()


def test_who_cannot_hear_the_alarm_gets_a_hand_and_no_reason_is_kept(scene, client) -> None:
    ada = scene.people["Ada"]
    actions.sign_in(night=scene.night, person=ada, at=scene.at("18:00"))
    client.post(f"{ROLL}hand/{ada.pk}/", {"wanted": "yes"})
    assert "needs a hand" in client.get(f"{ROLL}evacuation/").content.decode()
    client.post(f"{ROLL}hand/{ada.pk}/")
    assert not AlarmHand.objects.exists()


def test_a_troop_is_in_with_one_tap_and_out_with_its_leader(scene, client) -> None:
    new = NewGroup("Troop 9", [Member("Tim", "", 12), Member("Una", "", 13)],
                   leaders=[scene.people["Ada"]])  # fmt: skip
    group = sign_up_group(night=scene.night, new=new, by=None, at=scene.at("18:00"))
    shown = client.post(f"{ROLL}group/{group.pk}/in/", follow=True).content.decode()
    assert "Troop 9: 3 are in." in shown
    shown = client.post(f"{ROLL}group/{group.pk}/out/", follow=True).content.decode()
    assert "Troop 9: 3 are out, the minors with Ada Reed." in shown
    assert RollLine.objects.filter(collected_by=scene.people["Ada"]).count() == 2


def share(client, what: str, at: str, key: str, **given: object) -> dict:
    sent = {"what": what, "at": f"2026-01-14T{at}:00-06:00", "client_key": key, **given}
    return client.post(f"{ROLL}kept/", sent).json()


def test_what_a_tablet_kept_comes_in_once_with_its_own_time(scene, client, clock) -> None:
    clock.shift(2 * 3600)
    ada, keys = scene.people["Ada"].pk, [str(uuid4()) for _ in range(3)]
    for _ in range(2):
        assert share(client, "in", "18:10", keys[0], person=ada)["is_kept"]
        assert share(client, "out", "19:10", keys[1], person=ada)["is_kept"]
        fay = {"first_name": "Fay", "is_adult": "yes"}
        assert share(client, "walk-in", "18:20", keys[2], **fay)["is_kept"]
    line = RollLine.objects.get(person=ada)
    assert (line.in_at, line.out_at) == (scene.at("18:10"), scene.at("19:10"))
    assert RollLine.objects.count() == 2


def test_who_was_seen_here_after_a_late_sign_out_is_still_in(scene, client, clock) -> None:
    ada = scene.people["Ada"]
    for at in ("18:00", "19:30"):
        actions.sign_in(night=scene.night, person=ada, at=scene.at(at))
    clock.shift(2 * 3600)
    share(client, "out", "19:00", str(uuid4()), person=ada.pk)
    stays = RollLine.objects.order_by("in_at").values_list("in_at", "out_at")
    assert list(stays) == [(scene.at("18:00"), scene.at("19:00")), (scene.at("19:30"), None)]


def test_a_minor_whose_parent_welds_comes_in_and_the_line_says_what_is_missing(
    scene, client
) -> None:
    mina = make_minor(scene.shop, scene.people["Bo"], last_name="Low")
    client.post(f"{ROLL}in/", {"person": mina.pk})
    assert "no guardian is in yet" in client.get(ROLL).content.decode()
    client.post(f"{ROLL}in/", {"person": scene.people["Bo"].pk})
    assert "no guardian is in yet" not in client.get(ROLL).content.decode()
