"""What the board says of the training timetable."""

from __future__ import annotations

from tests.workshops.nights.scene import Scene
from workshops.nights import actions
from workshops.nights.models import SignUp


def teach(scene: Scene) -> None:
    actions.set_training(
        night=scene.night, learner=scene.people["Eli"], station=scene.drill,
        lead=scene.people["Ada"], by=None,
    )  # fmt: skip


def test_the_board_shows_who_learns_and_that_the_plan_has_them_together(scene: Scene, lead, page):
    teach(scene)
    assert "not placed yet" in lead.get(page("night")).text
    actions.plan_night(night=scene.night, by=None)
    text = lead.get(page("night")).text
    assert "Learning tonight" in text
    assert "not together" not in text


def test_the_board_says_why_a_line_of_the_timetable_was_not_kept(scene: Scene, lead, page):
    teach(scene)
    SignUp.objects.filter(person=scene.people["Ada"]).update(answer="no")
    actions.plan_night(night=scene.night, by=None)
    text = lead.get(page("night")).text
    assert "not together" in text
    assert "Not expected that night: Ada R." in text


def test_a_night_without_a_timetable_says_nothing_of_it(scene: Scene, lead, page):
    assert "Learning tonight" not in lead.get(page("night")).text
