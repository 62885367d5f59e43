"""What a gap costs, and the night without a spark: measured by the engine."""

from __future__ import annotations

import pytest

from tests.workshops.nights.scene import Scene
from workshops.nights.actions import plan_night
from workshops.nights.models import Night, Placing, SignUp
from workshops.nights.queries import expected_sets
from workshops.tonight.costs import Cost, cold_plan, cost_of
from workshops.tonight.queries import Tonight, tonight_of

pytestmark = pytest.mark.django_db


def tonight(scene: Scene) -> Tonight:
    return tonight_of(Night.objects.get(pk=scene.night.pk), scene.at("17:00"))


def cost(scene: Scene, name: str) -> Cost:
    floor = tonight(scene).floor
    station = getattr(scene, name)
    return cost_of(floor, next(each for each in floor.standings if each.station == station))


def without(scene: Scene, *names: str) -> None:
    SignUp.objects.filter(person__in=[scene.people[name] for name in names]).update(answer="no")


def test_without_a_welder_the_sets_of_the_night_are_lost(scene: Scene, material: None):
    whole = expected_sets(plan_night(night=scene.night, by=None, seconds=1.0))
    Placing.objects.all().delete()
    without(scene, "Bo")
    found = cost(scene, "weld")
    assert found.helpers == 1
    # Bo also tags once the last spark is out; whoever is invented only welds.
    assert 0 < found.whole_sets <= whole
    assert found.worth >= found.sets > 0


def test_welder_and_watch_are_both_missed(scene: Scene, material: None):
    without(scene, "Bo", "Cy")
    assert cost(scene, "weld").helpers == 2


def test_only_the_watch_is_missed(scene: Scene, material: None):
    without(scene, "Cy")
    found = cost(scene, "weld")
    assert (found.helpers, found.whole_sets > 0) == (1, True)


def test_a_gap_with_nothing_to_work_on_costs_hardly_anything(scene: Scene):
    without(scene, "Bo")
    found = cost(scene, "weld")
    assert found.is_little
    assert found.sets == 0


def test_the_cold_plan_has_no_spark_and_is_what_a_night_without_welders_makes(
    scene: Scene, material: None
):
    found = cold_plan(tonight(scene).floor)
    assert {line.station.name for line in found.lines} <= {"Drill", "Roll", "Tag"}
    assert found.pieces > 0
    without(scene, "Bo")
    run = plan_night(night=scene.night, by=None, seconds=1.0)
    assert found.sets == expected_sets(run) == 0


def test_nobody_there_makes_an_empty_cold_plan(scene: Scene, material: None):
    without(scene, *scene.people)
    assert cold_plan(tonight(scene).floor).lines == ()
