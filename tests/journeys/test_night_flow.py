"""Rolling drowns while tagging starves: the board tells it, and two people change places."""

from __future__ import annotations

import re

import pytest

from tests.factories import make_sign_off
from tests.workshops.nights.scene import bring_material, make_scene
from workshops.nights import actions
from workshops.nights.models import Placing
from workshops.stations.models import Level

pytestmark = pytest.mark.django_db
FLOW = "/teal-point/nights/2026-01-14/flow/"


@pytest.fixture
def scene(shop, clock):
    scene = make_scene(shop)
    clock.shift(45 * 60)
    for name, station in (("Ada", "drill"), ("Dee", "tag")):
        actions.sign_in(night=scene.night, person=scene.people[name], at=scene.at("18:05"))
        for block in scene.blocks:
            actions.place(
                night=scene.night, block=block, person=scene.people[name],
                station=getattr(scene, station), is_locked=False,
            )  # fmt: skip
    return scene


def test_the_board_says_which_station_starves_and_what_lies_on_the_racks(
    scene, duty_lead, client_of, django_assert_max_num_queries
) -> None:
    client = client_of(duty_lead)
    client.get(FLOW)
    with django_assert_max_num_queries(15):
        answer = client.get(FLOW)
    shown = answer.content.decode()
    assert len(answer.content) < 150_000
    assert "starves" in shown
    assert "no Head left" in shown or "no Post left" in shown or "no Cylinder left" in shown


def send(client, one, other) -> str:
    given = {"one": one.pk, "other": other.pk}
    return client.post(f"{FLOW}swap/", given, follow=True).content.decode()


def test_two_who_both_may_change_places_for_the_rest_of_the_night(
    scene, duty_lead, client_of
) -> None:
    ada, dee = scene.people["Ada"], scene.people["Dee"]
    make_sign_off(dee, scene.drill, Level.ALONE)
    assert "change places: go and tell them." in send(client_of(duty_lead), ada, dee)
    at = {(row.person_id, row.station_id) for row in Placing.objects.all()}
    assert at == {(ada.pk, scene.tag.pk), (dee.pk, scene.drill.pk)}


def test_nobody_moves_when_one_of_them_may_not(scene, duty_lead, client_of) -> None:
    before = set(Placing.objects.values_list("person", "station", "block"))
    shown = send(client_of(duty_lead), scene.people["Ada"], scene.people["Dee"])
    assert "no sign-off for Drill" in shown
    assert set(Placing.objects.values_list("person", "station", "block")) == before


def test_somebody_without_a_place_is_offered_where_it_gains_most_and_moved_with_one_tap(
    scene, duty_lead, client_of
) -> None:
    bring_material(scene)
    Placing.objects.filter(person=scene.people["Ada"]).delete()
    client = client_of(duty_lead)
    shown = client.get(f"{FLOW}swap/").content.decode()
    assert "Ada R. (without a place) may go to Drill: no rule stops this." in shown
    fields = re.findall(r'name="(one|station|block)" value="(\d+)"', shown)
    answer = client.post(f"{FLOW}swap/", dict(fields), follow=True).content.decode()
    assert "Ada R. goes to Drill: go and tell them." in answer
    at = Placing.objects.filter(person=scene.people["Ada"]).values_list("station", flat=True)
    assert set(at) == {scene.drill.pk}


def test_nothing_is_offered_where_nothing_gains(scene, duty_lead, client_of) -> None:
    answer = client_of(duty_lead).get(f"{FLOW}swap/")
    assert answer.status_code == 200
    assert "no rule stops this" not in answer.content.decode()
