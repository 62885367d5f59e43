"""What was fixed by hand is kept, or refused with the name of the rule."""

from __future__ import annotations

import pytest

from tests.workshops.nights.engine.small import bench, night, person, watch
from workshops.nights.engine.locks import LockRefused
from workshops.nights.engine.placings import Lock, Role
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.solve import solve

DRILL, SAW = bench("drill"), bench("saw")


def refused(problem: Problem) -> LockRefused:
    """The refusal that solving ends in."""
    with pytest.raises(LockRefused) as caught:
        solve(problem)
    return caught.value


def test_a_lock_is_kept_against_what_would_make_more() -> None:
    ada = person("ada", "drill", "saw", rates={"drill": 3.0})
    plan = solve(night([ada], [DRILL, SAW], locks=(Lock("ada", 0, "saw"),)))
    assert [each.station for each in plan.placings] == ["saw"]
    assert plan.is_legal()
    assert "fixed by hand" in plan.why(plan.placings[0])


def test_a_lock_without_a_current_sign_off_is_refused_by_name() -> None:
    problem = night([person("ada")], [DRILL], locks=(Lock("ada", 0, "drill"),))
    refusal = refused(problem)
    assert (refusal.rule, refusal.message) == ("sign_off", "Ada has no sign-off for Drill.")


def test_a_lock_of_somebody_not_here_is_refused_by_name() -> None:
    ada = person("ada", "drill", present=())
    assert refused(night([ada], [DRILL], locks=(Lock("ada", 0, "drill"),))).rule == "presence"


def test_two_locks_of_one_person_are_refused_by_name() -> None:
    locks = (Lock("ada", 0, "drill"), Lock("ada", 0, "saw"))
    problem = night([person("ada", "drill", "saw")], [DRILL, SAW], locks=locks)
    assert refused(problem).rule == "one_place"


def test_more_locks_than_a_station_holds_are_refused_by_name() -> None:
    locks = (Lock("ada", 0, "drill"), Lock("bo", 0, "drill"))
    problem = night([person("ada", "drill"), person("bo", "drill")], [DRILL], locks=locks)
    assert refused(problem).rule == "benches"


def test_a_hot_lock_that_nobody_can_watch_is_refused_by_name() -> None:
    problem = night([person("ada", "weld")], [bench("weld", is_hot=True), watch()],
                    locks=(Lock("ada", 0, "weld"),))  # fmt: skip
    assert refused(problem).rule == "fire_watch"


def test_a_learner_lock_without_a_lead_is_refused_by_name() -> None:
    people = [person("ada", "drill"), person("bo", "drill with_a_lead")]
    lock = Lock("bo", 0, "drill", Role.LEARNS)
    problem = night(people, [bench("drill", crew_max=2)], locks=(lock,))
    assert refused(problem).rule == "learner_beside_lead"


def test_a_lock_that_lacks_a_partner_brings_the_partner() -> None:
    people = [person("ada", "drill"), person("bo", "drill", "saw", rates={"saw": 5.0})]
    roll = bench("drill", crew_min=2, crew_max=2)
    plan = solve(night(people, [roll, SAW], locks=(Lock("ada", 0, "drill"),)))
    assert [each.station for each in plan.placings] == ["drill", "drill"]


def test_a_lock_on_the_fire_watch_is_kept() -> None:
    people = [person("ada", "weld"), person("bo", "watch"), person("cy", "watch")]
    lock = Lock("cy", 0, "watch", Role.WATCHES)
    plan = solve(night(people, [bench("weld", is_hot=True), watch()], locks=(lock,)))
    assert [each.person for each in plan.watch] == ["cy"]
    assert plan.is_legal()
