"""Each station open, short or closed, and why."""

from __future__ import annotations

import pytest

from tests.factories import make_bar, make_sign_off, take_back
from tests.workshops.nights.scene import Scene
from workshops.nights.actions import plan_night
from workshops.nights.models import Night, SignUp
from workshops.people.models import SignOff
from workshops.stations.models import Level
from workshops.tonight.queries import tonight_of
from workshops.tonight.stations import Standing

pytestmark = pytest.mark.django_db


def standing(scene: Scene, name: str) -> Standing:
    station = getattr(scene, name)
    found = tonight_of(Night.objects.get(pk=scene.night.pk), scene.at("17:00"))
    return next(each for each in found.floor.standings if each.station == station)


def says(scene: Scene, name: str, answer: str) -> None:
    SignUp.objects.filter(person=scene.people[name]).update(answer=answer)


def test_everybody_comes_and_every_station_is_open(scene: Scene):
    assert {standing(scene, each).state for each in ("drill", "weld", "watch", "roll")} == {"open"}


def test_the_chance_of_hot_work_is_that_of_welder_and_watch_together(scene: Scene):
    found = standing(scene, "weld")
    bo, cy = (next(h for h in found.hands if h.person == scene.people[n].pk) for n in ("Bo", "Cy"))
    assert found.chance == pytest.approx(bo.chance * cy.chance)
    assert set(found.hangs_on) == {bo.person, cy.person}


def test_no_welder_closes_welding(scene: Scene):
    says(scene, "Bo", "no")
    found = standing(scene, "weld")
    assert (found.state, found.chance) == ("closed", 0.0)
    assert found.reason == "Nobody who comes may work here by a current sign-off."


def test_no_watch_leaves_welding_short_and_says_so(scene: Scene):
    says(scene, "Cy", "no")
    found = standing(scene, "weld")
    assert (found.state, found.lacks_watch) == ("short", True)
    assert found.reason == "Nobody who comes may keep the fire watch."


def test_one_who_could_do_either_cannot_do_both(scene: Scene):
    says(scene, "Cy", "no")
    make_sign_off(scene.people["Bo"], scene.watch, Level.SHOWN_HOW)
    assert standing(scene, "weld").reason == (
        "Nobody can work here and keep its fire watch at once."
    )


def test_who_said_perhaps_is_told_and_not_counted_on(scene: Scene):
    says(scene, "Bo", "maybe")
    found = standing(scene, "weld")
    assert (found.state, found.reason) == ("closed", "Only Bo R. may, and said perhaps.")
    assert 0 < found.chance < 0.6


def test_a_sign_off_that_does_not_count_closes_the_station(scene: Scene):
    take_back(SignOff.objects.get(person=scene.people["Bo"]))
    assert standing(scene, "weld").state == "closed"


def test_a_bar_closes_the_station(scene: Scene):
    make_bar(scene.people["Bo"], scene.weld)
    assert standing(scene, "weld").state == "closed"


def test_a_learner_without_a_lead_opens_nothing(scene: Scene):
    says(scene, "Ada", "no")
    found = standing(scene, "drill")
    assert found.state == "short"
    assert found.reason == "Eli R. could learn here, and nobody who may lead comes."


def test_a_straw_night_shuts_hot_work_whoever_comes(scene: Scene):
    Night.objects.update(kind="straw")
    found = standing(scene, "weld")
    assert (found.is_shut, found.is_gap, found.state) == (True, False, "closed")
    assert standing(scene, "watch").word == "not needed"


def test_a_crew_of_two_with_one_is_short(scene: Scene):
    for name in ("Ada", "Bo", "Cy", "Eli"):
        says(scene, name, "no")
    found = standing(scene, "roll")
    assert (found.state, found.reason) == ("short", "Dee R. may; it takes 2 at a bench.")


def test_beside_a_plan_a_station_that_it_leaves_out_is_closed(scene: Scene):
    plan_night(night=scene.night, by=None, seconds=1.0)
    placed = set(scene.night.placings.values_list("station", flat=True))
    for name in ("drill", "weld", "roll", "tag"):
        is_open = standing(scene, name).state == "open"
        assert is_open == (getattr(scene, name).pk in placed)
