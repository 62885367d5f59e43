"""A re-plan keeps people where they know to go, unless moving somebody is worth it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.bench.placing_nights import night as drawn
from tests.workshops.nights.engine.small import bench, night, person
from workshops.nights.engine.placings import Lock
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.solve import solve


def without(problem: Problem, name: str, previous: tuple[Lock, ...]) -> Problem:
    """The night after somebody did not come, with the plan that people know."""
    left = tuple(replace(each, present=()) if each.id == name else each for each in problem.people)
    return replace(problem, people=left, previous=previous)


def test_a_known_plan_stays_when_nothing_changed() -> None:
    people = [person("ada", "drill", "saw"), person("bo", "drill", "saw")]
    known = (Lock("ada", 0, "saw"), Lock("bo", 0, "drill"))
    plan = solve(night(people, [bench("drill"), bench("saw")], previous=known))
    assert {(each.person, each.station) for each in plan.placings} == {
        ("ada", "saw"), ("bo", "drill"),
    }  # fmt: skip
    assert plan.changed == ()


def test_somebody_moves_when_it_is_worth_much() -> None:
    """Welding waits without Ada: ten times the worth of a piece that Bo makes now."""
    people = [person("bo", "drill", "saw", rates={"saw": 10.0})]
    plan = solve(night(people, [bench("drill"), bench("saw")], previous=(Lock("bo", 0, "drill"),)))
    assert [each.station for each in plan.placings] == ["saw"]
    assert plan.changed == (Lock("bo", 0, "drill"),)


@pytest.mark.parametrize("seed", range(3))
def test_one_no_show_of_thirty_moves_at_most_a_twentieth(seed: int) -> None:
    problem = drawn(seed)
    plan = solve(problem)
    gone = plan.placings[seed * 7].person
    again = solve(without(problem, gone, plan.as_known()))
    assert again.is_legal()
    assert gone not in {each.person for each in again.placings}
    assert len(again.changed) <= 0.05 * len(plan.as_known())


def test_the_sentences_of_a_replan_say_how_much_changed() -> None:
    problem = night([person("ada", "drill")], [bench("drill")], previous=(Lock("ada", 0, "drill"),))
    assert "0 of 1 known placings changed." in solve(problem).explain()
