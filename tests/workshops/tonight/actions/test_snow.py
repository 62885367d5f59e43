"""A night called off: people moved, told once, training offered, the winter told."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from django.core import mail

from tests.factories import make_night, make_sign_up, make_winter
from tests.workshops.nights.scene import Scene
from workshops.nights.models import Night, SignUp, TrainingDate
from workshops.nights.refusals import NightRefused
from workshops.season.history import history_of
from workshops.season.loading import problem_of
from workshops.tonight import actions
from workshops.tonight.models import CalledOff, Told
from workshops.tonight.refusals import TonightRefused

pytestmark = pytest.mark.django_db


@pytest.fixture
def later(scene: Scene) -> Night:
    """The night a week on."""
    return make_night(scene.shop, date=scene.night.date + timedelta(days=7))


def off(scene: Scene, to: Night | None = None, new_day: date | None = None) -> int | None:
    return actions.take_off(
        night=scene.night, reason="snow", to=to, new_day=new_day, by=None, at=scene.at("15:00")
    )


def test_those_who_meant_to_come_are_perhaps_coming_the_next_time(scene: Scene, later: Night):
    SignUp.objects.filter(person=scene.people["Ada"]).update(arrives="19:00", guests=2)
    SignUp.objects.filter(person=scene.people["Bo"]).update(answer="no")
    assert off(scene, later) == 4
    ada = SignUp.objects.get(night=later, person=scene.people["Ada"])
    assert (ada.answer, f"{ada.arrives:%H:%M}", ada.guests) == ("maybe", "19:00", 2)
    assert not SignUp.objects.filter(night=later, person=scene.people["Bo"]).exists()


def test_an_answer_that_stands_is_kept(scene: Scene, later: Night):
    make_sign_up(later, scene.people["Ada"], answer="no")
    assert off(scene, later) == 4
    assert SignUp.objects.get(night=later, person=scene.people["Ada"]).answer == "no"


def test_moved_twice_changes_nothing(scene: Scene, later: Night):
    off(scene, later)
    moved = actions.move_people(night=scene.night, to=later, by=None, at=scene.at("15:05"))
    assert moved == 0
    assert SignUp.objects.filter(night=later).count() == 5


def test_to_a_new_day_with_the_same_hours_and_blocks(scene: Scene):
    assert off(scene, new_day=date(2026, 1, 17)) == 5
    new = Night.objects.get(date=date(2026, 1, 17))
    assert (new.doors, new.lock_up) == (scene.night.doors, scene.night.lock_up)
    assert [block.starts for block in new.blocks.all()] == [b.starts for b in scene.blocks]
    assert CalledOff.objects.get().moved_to == new


def test_a_day_that_has_a_night_refuses_all_of_it(scene: Scene, later: Night):
    with pytest.raises(NightRefused, match="already a night"):
        off(scene, new_day=later.date)
    scene.night.refresh_from_db()
    assert scene.night.status == Night.Status.PLANNED


def test_a_night_behind_us_takes_nobody(scene: Scene):
    behind = make_night(scene.shop, date=scene.night.date - timedelta(days=7))
    with pytest.raises(TonightRefused, match="still to come"):
        off(scene, behind)


def test_each_is_told_once_and_a_shared_address_gets_one_letter(scene: Scene, later: Night):
    for name in ("Ada", "Bo"):
        scene.people[name].email = "both@example.org"
        scene.people[name].save()
    off(scene, later)
    told = actions.tell(night=scene.night, by=None, at=scene.at("15:10"))
    assert (len(told), len(mail.outbox)) == (5, 1)
    assert "Hello Ada and Bo," in mail.outbox[0].body
    assert "Wednesday 21 January" in mail.outbox[0].body
    assert Told.objects.filter(told_at=None).count() == 3
    assert actions.tell(night=scene.night, by=None, at=scene.at("15:11")) == []
    assert len(mail.outbox) == 1


def test_a_letter_that_cannot_be_sent_is_not_noted(scene: Scene, monkeypatch):
    scene.people["Ada"].email = "ada@example.org"
    scene.people["Ada"].save()
    off(scene)
    monkeypatch.setattr("workshops.tonight.actions.snow.send_mail", _no_server)
    with pytest.raises(OSError, match="no server"):
        actions.tell(night=scene.night, by=None, at=scene.at("15:10"))
    assert not Told.objects.filter(person=scene.people["Ada"]).exists()
    assert Told.objects.count() == 4


def _no_server(*_given: object) -> None:
    raise OSError("no server")


def test_who_was_rung_is_noted_once(scene: Scene):
    off(scene)
    row = actions.tell(night=scene.night, by=None, at=scene.at("15:10"))[0]
    first = actions.rung(told=row, by=None, at=scene.at("15:20")).told_at
    assert actions.rung(told=row, by=None, at=scene.at("15:30")).told_at == first


def test_a_night_that_stands_tells_nobody(scene: Scene):
    with pytest.raises(TonightRefused, match="Call the night off first"):
        actions.tell(night=scene.night, by=None, at=scene.at("15:10"))


def test_its_training_goes_along_but_for_a_learner_who_has_a_line(scene: Scene, later: Night):
    eli, ada = scene.people["Eli"], scene.people["Ada"]
    TrainingDate.objects.create(night=scene.night, learner=eli, station=scene.drill, lead=ada)
    off(scene, later)
    lines, refused = actions.move_training(
        night=scene.night, to=later, by=None, at=scene.at("15:10")
    )
    assert ([row.learner for row in lines], refused) == ([eli], [])
    again, _ = actions.move_training(night=scene.night, to=later, by=None, at=scene.at("15:11"))
    assert again == []


def test_the_winter_sees_the_night_as_lost(scene: Scene, later: Night):
    winter = make_winter(scene.shop)
    assert len(problem_of(winter, scene.night.date).nights) == 2
    off(scene, later)
    assert [night.date for night in problem_of(winter, scene.night.date).nights] == ["2026-01-21"]
    past = history_of(scene.shop, later.date).past_nights()
    assert [(night.date, night.held) for night in past] == [("2026-01-14", False)]
