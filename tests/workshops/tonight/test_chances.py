"""How likely each person is to be here, before the doors and after."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.factories import make_night, make_sign_up
from tests.workshops.nights.scene import Scene
from workshops.nights.coming import coming_to
from workshops.nights.models import Night, RollLine
from workshops.season.engine.facts import Person
from workshops.season.engine.learn import turnout_of
from workshops.season.history import history_of
from workshops.tonight.chances import PARAMS, Lateness, beliefs, chances, lateness_of

pytestmark = pytest.mark.django_db


def held(scene: Scene, weeks: int, came: dict[str, int]) -> Night:
    """A closed night so many weeks ago, to which all said yes and some came so late (minutes)."""
    night = make_night(
        scene.shop, date=scene.night.date - timedelta(weeks=weeks), status=Night.Status.CLOSED
    )
    for name, person in scene.people.items():
        make_sign_up(night, person)
        if name in came:
            in_at = scene.at("18:00") - timedelta(weeks=weeks) + timedelta(minutes=came[name])
            RollLine.objects.create(
                night=night, person=person, in_at=in_at, out_at=in_at + timedelta(hours=2)
            )
    return night


def found(scene: Scene, clock: str, lateness: Lateness | None) -> dict[str, float]:
    history = history_of(scene.shop, scene.night.date)
    people = [person.pk for person in scene.people.values()]
    by_id = chances(
        scene.night, coming_to(scene.night), beliefs(history, people), now=scene.at(clock),
        lateness=lateness,
    )  # fmt: skip
    return {name: by_id[who.pk] for name, who in scene.people.items() if who.pk in by_id}


def test_before_the_doors_it_is_the_outlook_s_own_belief(scene: Scene):
    for week in range(1, 5):
        held(scene, week, {"Ada": 0, "Bo": 0} if week < 3 else {"Ada": 0})
    told = found(scene, "17:00", None)
    rows = [
        Person(
            id=name, title="", asked=4, came={"Ada": 4, "Bo": 2}.get(name, 0), said_yes=4,
            came_after_yes={"Ada": 4, "Bo": 2}.get(name, 0),
        )
        for name in scene.people
    ]  # fmt: skip
    outlook = turnout_of(rows, PARAMS)
    assert told == pytest.approx({name: outlook[name].after_yes.mean for name in told})
    assert told["Ada"] > told["Bo"] > told["Cy"]


def test_who_said_no_has_no_chance_and_perhaps_is_as_if_unasked(scene: Scene):
    scene.night.sign_ups.filter(person=scene.people["Bo"]).update(answer="no")
    scene.night.sign_ups.filter(person=scene.people["Ada"]).update(answer="maybe")
    told = found(scene, "17:00", None)
    assert "Bo" not in told
    assert told["Ada"] == pytest.approx(PARAMS.turnout_mean)


def test_who_is_in_is_here_and_who_went_home_is_not(scene: Scene):
    RollLine.objects.create(night=scene.night, person=scene.people["Ada"], in_at=scene.at("18:01"))
    RollLine.objects.create(
        night=scene.night, person=scene.people["Bo"], in_at=scene.at("18:01"),
        out_at=scene.at("18:10"),
    )  # fmt: skip
    told = found(scene, "18:20", Lateness())
    assert told["Ada"] == 1.0
    assert "Bo" not in told


def test_the_later_it_gets_the_less_somebody_is_expected(scene: Scene):
    told = [found(scene, clock, Lateness())["Dee"] for clock in ("18:00", "18:15", "18:29")]
    assert told == sorted(told, reverse=True)
    assert found(scene, "18:31", Lateness())["Dee"] == 0.0


def test_late_comers_are_counted_from_the_time_they_had_said(scene: Scene):
    night = held(scene, 1, {"Ada": 5, "Bo": 62})
    night.sign_ups.filter(person=scene.people["Bo"]).update(arrives="19:00")
    assert sorted(lateness_of(scene.night).minutes) == [2, 5]


def test_bayes_by_hand():
    # Half of all who come are in after ten minutes, and nine of ten come: 0.45 / 0.55.
    late = Lateness(tuple([5] * 98 + [20] * 98))
    assert late.still_to_come(10) == pytest.approx((98 + 4 * 2 / 3) / 200)
    assert Lateness((5, 20)).chance(1.0, 10) == 1.0
    share = late.still_to_come(10)
    assert late.chance(0.9, 10) == pytest.approx(0.9 * share / (0.9 * share + 0.1))
