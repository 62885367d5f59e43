"""Who comes and when: the roll where somebody is on it, else what they answered."""

from __future__ import annotations

from datetime import time

import pytest

from workshops.nights import actions
from workshops.nights.coming import Coming, coming_to
from workshops.nights.models import SignUp


def of(scene, name: str) -> Coming:
    return next(each for each in coming_to(scene.night) if each.name.startswith(name))


def stay(scene, name: str) -> list[tuple[int, int]]:
    return [(span.start, span.end) for span in of(scene, name).present]


def answered(scene, name: str, **fields) -> None:
    SignUp.objects.filter(person=scene.people[name]).update(**fields)


def test_a_yes_is_the_whole_night(scene) -> None:
    assert stay(scene, "Ada") == [(18 * 60, 21 * 60)]


@pytest.mark.parametrize("answer", ["no", "maybe"])
def test_a_plan_does_not_count_on_a_no_or_a_perhaps(scene, answer) -> None:
    answered(scene, "Ada", answer=answer)
    assert not of(scene, "Ada").is_expected


def test_times_that_were_told_are_kept(scene) -> None:
    answered(scene, "Ada", arrives=time(18, 45), leaves=time(20))
    assert stay(scene, "Ada") == [(18 * 60 + 45, 20 * 60)]


def test_whoever_is_in_counts_from_then_whatever_they_answered(scene) -> None:
    answered(scene, "Ada", answer="no")
    actions.sign_in(night=scene.night, person=scene.people["Ada"], at=scene.at("18:20"))
    assert stay(scene, "Ada") == [(18 * 60 + 20, 21 * 60)]
    assert of(scene, "Ada").is_in


def test_whoever_went_home_counts_until_then(scene) -> None:
    ada = scene.people["Ada"]
    actions.sign_in(night=scene.night, person=ada, at=scene.at("18:00"))
    actions.sign_out(night=scene.night, person=ada, at=scene.at("19:10"))
    assert stay(scene, "Ada") == [(18 * 60, 19 * 60 + 10)]
    assert not of(scene, "Ada").is_in


def test_the_last_stay_counts_of_somebody_who_came_back(scene) -> None:
    ada = scene.people["Ada"]
    actions.sign_in(night=scene.night, person=ada, at=scene.at("18:00"))
    actions.sign_out(night=scene.night, person=ada, at=scene.at("18:30"))
    actions.sign_in(night=scene.night, person=ada, at=scene.at("19:00"))
    assert stay(scene, "Ada") == [(19 * 60, 21 * 60)]


def test_somebody_who_comes_after_the_time_they_meant_to_leave_stays_to_the_end(scene) -> None:
    answered(scene, "Ada", leaves=time(19))
    actions.sign_in(night=scene.night, person=scene.people["Ada"], at=scene.at("19:30"))
    assert stay(scene, "Ada") == [(19 * 60 + 30, 21 * 60)]


def test_nobody_answered_is_an_empty_list(scene) -> None:
    SignUp.objects.all().delete()
    assert coming_to(scene.night) == []


def test_who_comes_takes_one_query(scene, django_assert_num_queries) -> None:
    with django_assert_num_queries(1):
        assert len(coming_to(scene.night)) == 5
