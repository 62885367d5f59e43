"""Why a station is closed: a set of rules with nothing to spare, and what would open it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.bench.placing_nights import night as drawn
from tests.workshops.nights.engine.small import EVENING, bench, night, person, watch
from workshops.nights.engine.people import Bar, Level, SignOff
from workshops.nights.engine.placings import Lock
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.repairs import Fact, changed
from workshops.nights.engine.solve import solve
from workshops.nights.engine.stations import Material, Operation, Tool
from workshops.nights.engine.tonight import only_for, opened_somewhere
from workshops.nights.engine.why import Closed

WELD = bench("weld", is_hot=True)
LAPSED = SignOff("weld", Level.ALONE, "2030-12-31")


def closed(problem: Problem, station: str) -> Closed:
    """The reason that a plan gives for one station."""
    return next(each for each in solve(problem).closed if each.station == station)


def test_placing_without_a_current_welder_closes_welding_and_names_who_could_cover() -> None:
    people = [person("bo", "watch"), person("eve", LAPSED), person("cy", "weld", present=())]
    found = closed(night(people, [WELD, watch()]), "weld")
    assert found.rules == ("sign_off", "presence")
    assert found.reason == (
        "Nobody here tonight may work at Weld by a current sign-off. "
        "Eve's ended on 31 December 2030. Cy could, and is not here."
    )
    assert (found.could_cover, found.nearly) == ((), ("eve",))
    assert [each.text for each in found.changes] == ["Ask Cy to come."]


def test_somebody_who_may_sign_can_renew_a_sign_off() -> None:
    people = [person("ann", "drill may_sign", breaks=(0,), no_dust=True),
              person("eve", SignOff("drill", Level.ALONE, "2030-12-31"))]  # fmt: skip
    problem = night(people, [bench("drill", is_dusty=True)])
    found = closed(problem, "drill")
    assert [each.text for each in found.changes] == [
        "Have Eve re-signed for Drill by Ann, who may sign."
    ]


def test_without_anybody_who_may_sign_nothing_is_offered() -> None:
    found = closed(night([person("eve", LAPSED), person("bo", "watch")], [WELD, watch()]), "weld")
    assert found.changes == ()


def test_a_bar_is_never_offered_to_be_lifted() -> None:
    people = [person("ada", "drill", bars=(Bar("drill", "chuck key left in"),))]
    found = closed(night(people, [bench("drill")]), "drill")
    assert (found.rules, found.changes) == (("barred",), ())


def test_without_a_fire_watch_welding_is_closed_for_that_reason() -> None:
    found = closed(night([person("ada", "weld")], [WELD, watch()]), "weld")
    assert "fire_watch" in found.rules
    assert "Nobody here tonight may keep the fire watch." in found.reason


def test_a_watch_that_leaves_early_can_be_asked_to_stay() -> None:
    bo = person("bo", "watch", present=(replace(EVENING, end=1200),))
    found = closed(night([person("ada", "weld"), bo], [WELD, watch()]), "weld")
    assert [each.fact for each in found.changes] == [Fact.STAY]
    assert "Ask Bo to be here" in found.changes[0].text


def test_welding_after_the_last_spark_is_never_offered() -> None:
    problem = night([person("ada", "weld"), person("bo", "watch")], [WELD, watch()], lock_up=1200)
    found = closed(problem, "weld")
    assert (found.rules, found.changes) == (("last_spark",), ())


def test_a_broken_tool_can_be_mended() -> None:
    problem = night([person("ada", "drill")], [bench("drill", tools={"vise": 1})],
                    tools=(Tool("vise", "Vise", 1, 1),))  # fmt: skip
    found = closed(problem, "drill")
    assert found.rules == ("out_of_service",)
    assert [each.text for each in found.changes] == ["Mend or borrow one more of Vise."]


def test_somebody_fixed_elsewhere_can_be_freed() -> None:
    problem = night([person("ada", "drill", "saw")], [bench("drill"), bench("saw")],
                    locks=(Lock("ada", 0, "saw"),))  # fmt: skip
    found = closed(problem, "drill")
    assert "locks_kept" in found.rules
    assert [each.text for each in found.changes] == ["Free Ada, fixed at Saw from 18:30."]


def test_a_station_closed_by_somebody_says_what_they_said() -> None:
    problem = night([person("ada", "drill")], [bench("drill", closed_because="belt torn")])
    assert closed(problem, "drill").reason == "Belt torn."


def test_a_station_that_no_rule_stops_says_so() -> None:
    ada = person("ada", "drill", "saw", rates={"saw": 2.0})
    found = closed(night([ada], [bench("drill"), bench("saw")]), "drill")
    assert (found.rules, found.could_cover) == ((), ("ada",))
    assert found.reason == "No rule stops it; tonight's people make more for the winter elsewhere."


def test_a_station_without_material_says_what_is_short() -> None:
    operation = Operation("o", "saw", "Saw posts", 9, "saw_piece", materials={"tube": 3})
    problem = night([person("ada", "saw", "drill")], [bench("saw"), bench("drill")],
                    materials=(Material("tube", "Tube", 2),),
                    operations=(operation, Operation("d", "drill", "Drill", 9, "drill_piece")),
                    )  # fmt: skip
    assert closed(problem, "saw").reason == "Nothing to work on: Tube short for Saw posts."


@pytest.mark.parametrize("seed", range(8))
def test_conflicts_have_nothing_to_spare_and_changes_open_the_station(seed: int) -> None:
    """Of four people few stations can open; each closed one is looked at again."""
    problem = drawn(seed, 5, 2, 12)
    for each in solve(problem).closed:
        small = only_for(problem, problem.station[each.station])
        if each.rules and each.rules != ("crew_minimum",):
            _assert_minimal(small, each)
        if each.changes:
            assert opened_somewhere(changed(small, each.changes), each.station)


def _assert_minimal(small: Problem, found: Closed) -> None:
    assert not opened_somewhere(small, found.station)
    for rule in found.rules:
        others = frozenset(_NAMES - set(found.rules)) | {rule}
        assert opened_somewhere(small, found.station, others), (found, rule)


_NAMES = {
    "one_place", "crew_maximum", "tool_count", "floor_places", "learner_beside_lead", "buddy",
    "supervision", "minor_hours", "minimum_age", "fire_watch_only", "breaks", "out_of_service",
    "hot_and_straw", "locks_kept", "personal_limits", "barred", "prerequisites", "last_spark",
    "fire_watch", "presence", "sign_off",
}  # fmt: skip


def test_an_early_lock_up_is_named_and_nobody_is_blamed_for_it() -> None:
    people = [person("bo", "watch"), person("cy", "weld", present=())]
    whole = night(people, [WELD, watch()])
    early = replace(whole, club=replace(whole.club, watch_minutes=600))
    found = closed(early, "weld")
    assert found.rules == ("last_spark",)
    assert found.reason.startswith("Last spark would be at ")
    assert "Cy" not in found.reason
