"""Every hard rule alone: allowed, against, and named by the checker."""

from __future__ import annotations

import pytest

from tests.workshops.nights.engine.rule_cases import CASES, Case
from tests.workshops.nights.engine.small import BLOCK, bench, night, person, watch
from workshops.nights.engine.board import Board
from workshops.nights.engine.people import Level
from workshops.nights.engine.placings import Placing, Role, Watching
from workshops.nights.engine.rules import RULES, breaches, breaches_of, title
from workshops.nights.engine.solve import solve
from workshops.nights.engine.stations import Operation

NAMES = [f"{case.rule}-{number}" for number, case in enumerate(CASES)]


@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_the_night_the_rule_allows_is_placed(case: Case) -> None:
    plan = solve(case.allowed)
    assert plan.is_legal(), plan.breaches
    assert len(plan.placings) == case.most


@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_one_fact_against_the_rule_and_the_best_legal_plan_has_fewer(case: Case) -> None:
    plan = solve(case.against)
    assert plan.is_legal(), plan.breaches
    assert len(plan.placings) == case.fewer


@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_the_checker_names_this_rule_and_no_other(case: Case) -> None:
    plan = solve(case.allowed)
    found = breaches(case.against, plan.placings, plan.watch)
    assert {breach.rule for breach in found} == {case.rule}
    assert all(breach.message.endswith(".") for breach in found)


def test_every_rule_has_a_case_and_a_title() -> None:
    alone = {"one_place", "operation_level"}  # below: no fact of a night brings these about
    assert {case.rule for case in CASES} | alone == set(RULES)
    assert all(title(rule) for rule in RULES)


def test_nobody_stands_in_two_places() -> None:
    problem = night([person("ada", "drill", "saw")], [bench("drill"), bench("saw")])
    twice = [Placing("ada", 0, "drill"), Placing("ada", 0, "saw")]
    assert [breach.rule for breach in breaches(problem, twice)] == ["one_place"]
    assert len(solve(problem).placings) == 1


def test_the_fire_watch_does_nothing_else() -> None:
    people = [person("ada", "weld"), person("bo", "watch", "drill")]
    problem = night(people, [bench("weld", is_hot=True), bench("drill"), watch()])
    placings = [Placing("ada", 0, "weld"), Placing("bo", 0, "drill")]
    found = breaches(problem, placings, [Watching("bo", "steel", 0, 1110, 1215)])
    assert {breach.rule for breach in found} == {"fire_watch_only", "one_place"}


def test_the_welder_cannot_watch_the_own_sparks() -> None:
    problem = night([person("ada", "weld", "watch")], [bench("weld", is_hot=True), watch()])
    assert solve(problem).placings == ()


def test_two_hooded_welders_are_no_buddies() -> None:
    weld = bench("weld", is_hooded=True, needs_buddy=True, crew_max=2)
    problem = night([person("ada", "weld"), person("bo", "weld")], [weld])
    both = [Placing("ada", 0, "weld"), Placing("bo", 0, "weld")]
    assert [breach.rule for breach in breaches(problem, both)] == ["buddy"]
    assert solve(problem).placings == ()


def test_the_fire_watch_is_a_buddy_for_a_hood() -> None:
    weld = bench("weld", is_hot=True, is_hooded=True, needs_buddy=True)
    plan = solve(night([person("ada", "weld"), person("bo", "watch")], [weld, watch()]))
    assert [each.person for each in plan.placings] == ["ada"]
    assert plan.is_legal()


def test_a_watch_over_no_sparks_is_nobodys_buddy() -> None:
    weld = bench("weld", is_hooded=True, needs_buddy=True)
    people = [person("ada", "weld"), person("bo", "watch", "grind", present=(BLOCK,))]
    plan = solve(night(people, [weld, bench("grind", is_hot=True), watch()]))
    assert (plan.placings, plan.watch) == ((), ())


def test_a_learner_of_the_fire_watch_keeps_none() -> None:
    people = [person("ada", "weld"), person("bo", "watch with_a_lead")]
    assert solve(night(people, [bench("weld", is_hot=True), watch()])).placings == ()


def test_work_of_a_higher_level_is_counted_on_only_from_those_who_hold_it() -> None:
    operation = Operation("o", "drill", "Fine", 9, "drill_piece", 1, {}, {}, Level.MAY_LEAD)
    problem = night([person("ada", "drill")], [bench("drill")], operations=(operation,))
    counted = Board(problem, (Placing("ada", 0, "drill"),), (), {"o": (5.0,)})
    assert [breach.rule for breach in breaches_of(counted)] == ["operation_level"]
    assert solve(problem).output.made == {"o": (0.0,)}


def test_a_learner_is_no_worker_by_another_name() -> None:
    problem = night([person("ada", "drill with_a_lead")], [bench("drill")])
    found = breaches(problem, [Placing("ada", 0, "drill", 1, Role.WORKS)])
    assert [breach.rule for breach in found] == ["sign_off"]


def test_a_watch_with_a_gap_is_named_with_its_times() -> None:
    problem = night([person("ada", "weld"), person("bo", "watch")],
                    [bench("weld", is_hot=True), watch()])  # fmt: skip
    found = breaches(problem, [Placing("ada", 0, "weld")], [Watching("bo", "steel", 0, 1110, 1200)])
    assert [breach.message for breach in found] == [
        "Nobody keeps the fire watch in steel from 20:00 to 20:15."
    ]
