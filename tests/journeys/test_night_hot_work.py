"""Sparks and the watch through the addresses: late sparks move lock-up, nothing closes early."""

from __future__ import annotations

from uuid import uuid4

import pytest
from django.test import Client

from tests.factories import make_station
from tests.workshops.nights.hot import answer_all, posted
from tests.workshops.nights.scene import Scene, make_scene
from workshops.nights.models import HotWorkPermit, Night
from workshops.nights.permit.models import Spark
from workshops.nights.permit.queries import is_arc_allowed, last_spark_at, lock_up_from
from workshops.people import actions as people
from workshops.stations.models import Level, Station

pytestmark = pytest.mark.django_db
NIGHT = "/teal-point/nights/2026-01-14"
WORDS = {"words": "Heads on the rack.", "not_done": "late"}


@pytest.fixture
def scene(shop, clock) -> Scene:
    """Tonight, with an abrasive saw at the cutting station and a second watch."""
    scene = make_scene(shop)
    scene.cut = make_station(shop, name="Cut", kind=Station.Kind.CUT, is_spark=True)
    scene.join("Fay", (scene.watch, Level.ALONE))
    return scene


@pytest.fixture
def lead(duty_lead, client_of) -> Client:
    return client_of(duty_lead)


def send(lead: Client, page: str, **given: object) -> str:
    return lead.post(f"{NIGHT}/{page}/", given, follow=True).content.decode()


def opened(scene: Scene, lead: Client) -> None:
    answer_all(scene.night, scene.at("18:00"))
    assert "The permit is open" in send(lead, "permit", **posted(scene.night, scene.people["Cy"]))


def spark(lead: Client, station: Station, at: str = "", key: object = None) -> str:
    given = {"station": station.pk, "struck_by": "Bo", "at": at, "client_key": key or uuid4()}
    return send(lead, "permit/spark", **given)


def sign(lead: Client, what: str = "end") -> str:
    return send(lead, "permit/sign", what=what, signed_by="Cy Reed")


def test_just_two_more_after_the_last_spark_move_lock_up_in_one_sentence(scene, lead, clock):
    opened(scene, lead)
    clock.shift(120 * 60)
    assert "The last spark, 20:00 at Weld (Bo): the watch lasts until 21:00" in spark(
        lead, scene.weld
    )
    assert not is_arc_allowed(scene.night, scene.at("20:01"))
    clock.shift(10 * 60)
    shown = spark(lead, scene.weld)
    assert "starts again and lasts until 21:10, lock-up moves from 21:00 to 21:10" in shown
    assert "Dov stays with the key" in shown
    assert last_spark_at(scene.night) == scene.at("20:10")


def test_a_grinder_at_the_cutting_station_takes_off_the_signature(scene, lead, clock):
    opened(scene, lead)
    clock.shift(90 * 60)
    spark(lead, scene.weld)
    clock.shift(75 * 60)
    assert "The end of the watch is signed by Cy Reed" in sign(lead)
    shown = spark(lead, scene.cut, at="20:40")
    assert "20:40 at Cut (Bo): the watch starts again" in shown
    assert "Nobody keeps the watch now: name somebody at once" in shown
    assert "has not signed the end" in send(lead, "close", **WORDS)
    assert Spark.objects.count() == 2


def test_the_watch_outlasts_the_night_and_nothing_closes_before(scene, lead, clock):
    opened(scene, lead)
    clock.shift(160 * 60)
    spark(lead, scene.weld, at="20:30")
    assert lock_up_from(scene.night) == scene.at("21:30")
    clock.shift(49 * 60)
    assert "The watch lasts until 21:30" in sign(lead)
    assert "has not signed the end" in send(lead, "close", **WORDS)
    clock.shift(60)
    sign(lead)
    assert "The night is closed" in send(lead, "close", **WORDS)
    assert Night.objects.get().status == Night.Status.CLOSED
    assert "The night of Wed Jan 14 is closed" in spark(lead, scene.weld, at="21:20")


def test_the_watch_changes_hands_by_name_and_without_a_gap(scene, lead, clock):
    opened(scene, lead)
    clock.shift(120 * 60)
    spark(lead, scene.weld)
    clock.shift(30 * 60)
    assert "keeps the fire watch from now on" in send(
        lead, "permit/turn", watcher=scene.people["Fay"].pk
    )
    first, second = HotWorkPermit.objects.get().turns.all()
    assert first.until_at == second.from_at == scene.at("20:30")
    assert lock_up_from(scene.night) == scene.at("21:00")


def test_a_watch_who_is_stopped_leaves_nobody_and_all_sparks_stop(scene, lead, clock):
    opened(scene, lead)
    assert is_arc_allowed(scene.night, scene.at("18:30"))
    people.set_bar(
        person=scene.people["Cy"], station=None, reason="asleep", set_by="Carla", by=None
    )
    assert not is_arc_allowed(scene.night, scene.at("18:30"))
    assert "Nobody keeps the fire watch" in lead.get(f"{NIGHT}/permit/").content.decode()


def test_a_gap_in_the_watch_starts_it_again(scene, lead, clock):
    opened(scene, lead)
    clock.shift(120 * 60)
    spark(lead, scene.weld)
    people.set_bar(
        person=scene.people["Cy"], station=None, reason="asleep", set_by="Carla", by=None
    )
    clock.shift(20 * 60)
    send(lead, "permit/turn", watcher=scene.people["Fay"].pk)
    assert lock_up_from(scene.night) == scene.at("21:20")


def test_a_form_sent_twice_is_one_spark(scene, lead, clock):
    opened(scene, lead)
    key = uuid4()
    for _ in range(2):
        spark(lead, scene.weld, key=key)
    assert Spark.objects.count() == 1


def test_the_welder_and_whoever_has_other_work_keep_no_watch(scene, lead, clock):
    opened(scene, lead)
    given = {"station": scene.weld.pk, "struck_by": "Cy Reed", "client_key": uuid4()}
    assert "strikes no sparks" in send(lead, "permit/spark", **given)
    night = f"{NIGHT}/move/{scene.blocks[0].pk}/{scene.people['Fay'].pk}/"
    lead.post(night, {"station": scene.tag.pk})
    assert "can do nothing else" in send(lead, "permit/turn", watcher=scene.people["Fay"].pk)
