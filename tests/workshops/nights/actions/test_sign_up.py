"""Signing up: guests and a note, and the count of changes that calendars ask for."""

from __future__ import annotations

import pytest

from workshops.nights import actions
from workshops.nights.actions.calendar import MOST_GUESTS, Bringing
from workshops.nights.models import SignUp
from workshops.nights.refusals import NightRefused

pytestmark = pytest.mark.django_db


def answered(scene, answer: str, bringing: Bringing | None = None) -> SignUp:
    return actions.sign_up(
        night=scene.night, person=scene.people["Dee"], answer=answer, at=scene.at("17:00"),
        bringing=bringing,
    )  # fmt: skip


def test_guests_and_a_note_stay_until_something_else_is_said(scene) -> None:
    answered(scene, "yes", Bringing(2, " two cousins ", " I have a truck "))
    row = answered(scene, "maybe")
    assert (row.guests, row.guest_names, row.note) == (2, "two cousins", "I have a truck")


def test_whoever_does_not_come_brings_nobody(scene) -> None:
    answered(scene, "yes", Bringing(2, "two cousins", "late"))
    row = answered(scene, "no")
    assert (row.guests, row.guest_names, row.note) == (0, "", "late")


@pytest.mark.parametrize("guests", [-1, MOST_GUESTS + 1])
def test_more_guests_than_one_person_brings_are_refused(scene, guests) -> None:
    with pytest.raises(NightRefused, match=f"up to {MOST_GUESTS}"):
        answered(scene, "yes", Bringing(guests))


def test_each_answer_after_the_first_is_a_change_and_so_is_a_cancelled_night(scene) -> None:
    SignUp.objects.filter(person=scene.people["Dee"]).delete()
    assert [answered(scene, each).changes for each in ("yes", "no", "yes")] == [0, 1, 2]
    night = actions.cancel_night(night=scene.night, reason="snow", at=scene.at("16:00"))
    assert (night.changes, night.changed_at) == (1, scene.at("16:00"))
