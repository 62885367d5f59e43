"""Who could fill a gap: those who come, those to ask, in whose turn it is."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.factories import make_bar, make_night, make_person, make_sign_off, make_waiver
from tests.workshops.nights.scene import Scene
from workshops.nights.models import Night, RollLine, SignUp
from workshops.people.models import Person
from workshops.tonight.asking import Gap
from workshops.tonight.models import Ask
from workshops.tonight.queries import Line, tonight_of

pytestmark = pytest.mark.django_db


def welder(scene: Scene, name: str) -> Person:
    """Somebody who may weld and has not answered."""
    person = make_person(scene.shop, first_name=name, last_name="Aal")
    make_waiver(person)
    make_sign_off(person, scene.weld)
    return person


def line(scene: Scene) -> Line:
    found = tonight_of(Night.objects.get(pk=scene.night.pk), scene.at("17:42"))
    return next(each for each in found.lines if each.standing.station == scene.weld)


def gap(scene: Scene) -> Gap:
    found = line(scene).gap
    assert found is not None
    return found


@pytest.fixture
def ill(scene: Scene) -> Scene:
    """The only welder who was coming said no."""
    SignUp.objects.filter(person=scene.people["Bo"]).update(answer="no")
    return scene


def test_those_who_may_are_offered_and_who_said_no_comes_last(ill: Scene):
    welder(ill, "Zoe")
    assert [each.name for each in gap(ill).asks] == ["Zoe A.", "Bo R."]
    assert gap(ill).asks[1].said == "no"


def test_whom_the_gate_stops_is_not_offered(ill: Scene):
    make_bar(welder(ill, "Zoe"), ill.weld)
    assert [each.name for each in gap(ill).asks] == ["Bo R."]


def test_who_was_asked_last_week_comes_after_who_was_not(ill: Scene):
    ann, zoe = welder(ill, "Ann"), welder(ill, "Zoe")
    before = make_night(ill.shop, date=ill.night.date - timedelta(days=7))
    Ask.objects.create(
        shop=ill.shop, night=before, person=ann, station=ill.weld, reply="yes",
        asked_at=ill.at("17:00") - timedelta(days=7), replied_at=ill.at("17:00"),
    )  # fmt: skip
    assert [each.person for each in gap(ill).asks][:2] == [zoe.pk, ann.pk]
    assert gap(ill).asks[1].load.startswith("asked once, last 7 days ago, said yes once")


def test_who_was_asked_for_tonight_goes_to_the_end_with_the_time(ill: Scene):
    ann, zoe = welder(ill, "Ann"), welder(ill, "Zoe")
    Ask.objects.create(shop=ill.shop, night=ill.night, person=ann, station=ill.weld)
    found = gap(ill).asks
    assert (found[0].person, found[-1].person) == (zoe.pk, ann.pk)
    assert found[-1].ask is not None


def test_who_comes_and_whose_sign_off_lapsed_is_told_with_the_step(ill: Scene):
    make_sign_off(ill.people["Dee"], ill.weld, valid_until=ill.night.date - timedelta(days=1))
    assert gap(ill).nearly == (("Dee R.", "once signed again: the sign-off lapsed"),)


def test_one_man_who_carries_a_station_every_night_is_told_as_too_much(scene: Scene):
    for week in range(1, 11):
        day = scene.night.date - timedelta(weeks=week)
        night = make_night(scene.shop, date=day, status=Night.Status.CLOSED)
        if week < 10:
            in_at = scene.at("18:00") - timedelta(weeks=week)
            RollLine.objects.create(
                night=night, person=scene.people["Bo"], in_at=in_at, out_at=in_at
            )
    assert line(scene).alone == (
        "Only Bo R. can, and worked 9 of 10 nights this winter: too much for one person. "
        "Train a second."
    )
    welder(scene, "Zoe")
    assert line(scene).alone == ""
