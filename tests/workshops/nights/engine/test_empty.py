"""Nights with nothing in them."""

from __future__ import annotations

from tests.workshops.nights.engine.small import bench, night, person
from workshops.nights.engine.greedy import first_come
from workshops.nights.engine.plan import Proof
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.solve import solve


def test_a_night_with_nothing_at_all_is_an_empty_plan() -> None:
    plan = solve(Problem("2031-01-16", (), 0))
    assert (plan.placings, plan.watch, plan.closed, plan.idle) == ((), (), (), ())
    assert (plan.proof, plan.gap, plan.output.worth) == (Proof.BEST, 0.0, 0.0)


def test_nobody_came_and_every_station_says_so() -> None:
    plan = solve(night([], [bench("drill")]))
    assert plan.placings == ()
    assert [(each.station, each.rules) for each in plan.closed] == [("drill", ("crew_minimum",))]
    assert plan.closed[0].reason == "Not enough people are on tonight's list for Drill."


def test_people_and_no_stations_are_idle_with_a_reason() -> None:
    plan = solve(night([person("ada")], []))
    assert [each.reason for each in plan.idle] == [
        "No station is open to Ada tonight: none has a bench."
    ]


def test_people_not_coming_are_not_placed() -> None:
    plan = solve(night([person("ada", "drill", present=())], [bench("drill")]))
    assert (plan.placings, plan.idle) == ((), ())


def test_stations_that_make_nothing_still_get_people() -> None:
    problem = night([person("ada", "drill")], [bench("drill")], operations=(), pieces=())
    assert [each.station for each in solve(problem).placings] == ["drill"]


def test_first_come_of_an_empty_night_is_an_empty_board() -> None:
    assert first_come(Problem("2031-01-16", (), 0)).placings == ()
