"""Where somebody may go, asked of the gate before they are moved."""

from __future__ import annotations

from tests.factories import make_bar
from workshops.nights import actions
from workshops.nights.models import Night
from workshops.nights.moving import Offer, places_for


def offers(scene, name: str, block: int = 0) -> dict[str, Offer]:
    found = places_for(scene.night, scene.blocks[block], scene.people[name])
    return {each.station.name: each for each in found.offers}


def put(scene, name: str, station: str) -> None:
    actions.place(
        night=scene.night, block=scene.blocks[0], person=scene.people[name],
        station=getattr(scene, station),
    )  # fmt: skip


def test_only_stations_the_gate_allows_are_open(scene) -> None:
    found = places_for(scene.night, scene.blocks[0], scene.people["Dee"])
    assert {each.station.name for each in found.open} == {"Roll", "Tag"}
    assert {each.station.name for each in found.shut} == {"Drill", "Weld", "Fire watch"}


def test_a_shut_station_says_why(scene) -> None:
    assert offers(scene, "Dee")["Drill"].no == "Dee R. has no sign-off for Drill."


def test_a_learner_is_offered_the_place_beside_a_lead(scene) -> None:
    alone = offers(scene, "Eli")["Drill"]
    assert alone.no == "Nobody beside Eli R. may lead at Drill."
    assert alone.remedy == "Put Ada R. there first: may lead."
    put(scene, "Ada", "drill")
    offer = offers(scene, "Eli")["Drill"]
    assert (offer.no, offer.as_learner) == ("", True)
    assert not offers(scene, "Ada")["Drill"].as_learner


def test_a_barred_learner_is_offered_nothing(scene) -> None:
    make_bar(scene.people["Eli"], scene.drill, reason="left the guard off")
    assert "left the guard off" in offers(scene, "Eli")["Drill"].no


def test_the_fire_watch_is_offered_to_whoever_may_watch(scene) -> None:
    assert offers(scene, "Cy")["Fire watch"].no == ""
    assert "no sign-off" in offers(scene, "Bo")["Fire watch"].no


def test_the_place_now_and_those_there_are_told(scene) -> None:
    put(scene, "Ada", "tag")
    put(scene, "Dee", "tag")
    found = places_for(scene.night, scene.blocks[0], scene.people["Ada"])
    assert found.here.station == scene.tag
    assert (offers(scene, "Ada")["Tag"].there, offers(scene, "Ada")["Tag"].is_here) == (1, True)
    assert not offers(scene, "Ada", 1)["Tag"].is_here


def test_the_kind_of_night_shuts_stations_for_everybody(scene) -> None:
    scene.night.kind = Night.Kind.STRAW
    assert "straw night" in offers(scene, "Bo")["Weld"].no
