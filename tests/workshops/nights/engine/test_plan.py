"""What a plan says about itself."""

from __future__ import annotations

import json
import math
from dataclasses import replace

from inventory.engines.stop import Seconds
from tests.bench.placing_nights import night as drawn
from tests.workshops.nights.engine.small import bench, night, person, watch
from workshops.nights.engine.output import Output
from workshops.nights.engine.params import PlacingParams
from workshops.nights.engine.plan import Plan, Proof
from workshops.nights.engine.solve import solve


def test_the_gap_is_of_what_is_made_tonight() -> None:
    plan = Plan(night([], []), output=Output(worth=200.0), bound=210.0)
    assert (plan.gap, plan.proof) == (0.05, Proof.GAP)


def test_within_the_tolerance_a_plan_is_proven_best() -> None:
    plan = Plan(night([], []), output=Output(worth=1000.0), bound=1000.9)
    assert plan.proof is Proof.BEST
    assert "Proven best: no plan makes 0.1% more tonight." in plan.explain()


def test_nothing_made_and_something_possible_is_an_unknown_gap() -> None:
    plan = Plan(night([], []), bound=10.0, is_searched=False)
    assert (plan.gap, plan.proof) == (math.inf, Proof.FIRST_COME)
    assert plan.to_json()["gap"] is None


def test_a_plan_in_plain_form_goes_through_json() -> None:
    plain = solve(drawn(2, 12, 3, 7)).to_json()
    assert json.loads(json.dumps(plain)) == plain
    assert plain["breaches"] == []
    assert {"station", "reason", "rules", "changes"} <= set(plain["closed"][0])


def test_every_placing_watch_and_idle_person_has_one_sentence() -> None:
    plan = solve(drawn(4))
    told = [plan.why(each) for each in plan.placings]
    told += [plan.why_watching(each) for each in plan.watch]
    told += [each.reason for each in plan.idle]
    assert len(plan.idle) > 0
    assert all(text.endswith(".") and text.count(". ") == 0 for text in told)


def test_the_only_one_who_could_is_told_so() -> None:
    plan = solve(night([person("ada", "drill"), person("bo")], [bench("drill")]))
    assert plan.why(plan.placings[0]) == (
        "Ada is at Drill: nobody else free then is signed off for it; "
        "the crew is to make Drill work about 5."
    )
    assert [each.reason for each in plan.idle] == [
        "No station is open to Bo tonight: no current sign-off at the level asked."
    ]


def test_the_last_watch_is_told_to_stay() -> None:
    plan = solve(night([person("ada", "weld"), person("bo", "watch")],
                       [bench("weld", is_hot=True), watch()]))  # fmt: skip
    assert plan.why_watching(plan.watch[0]) == (
        "Bo keeps the fire watch from 18:30 to 20:15: "
        "signed off for it, and stays to the end of the watch."
    )


def test_a_full_floor_is_why_somebody_is_idle() -> None:
    problem = night([person("ada", "drill"), person("bo", "drill")],
                    [bench("drill", crew_max=2)], floor_places=1)  # fmt: skip
    assert [each.reason for each in solve(problem).idle] == [
        "The floor is full with 1 people, and no job off it is free for Bo then."
    ]


def test_no_time_gives_first_come_first_placed_and_says_so() -> None:
    plan = solve(drawn(5, 120, 6, 30), Seconds(0.001))
    assert plan.is_legal()
    assert plan.output.worth >= plan.first_come > 0
    assert plan.seconds < 5


def test_the_same_seed_gives_the_same_plan() -> None:
    problem = drawn(6)
    assert solve(problem, seed=3).placings == solve(problem, seed=3).placings


def test_a_wider_gap_is_stated_as_such() -> None:
    plan = solve(drawn(7), params=PlacingParams(gap=0.2))
    assert plan.proof is Proof.BEST
    assert "Proven best: no plan makes 20.0% more tonight." in plan.explain()


def test_the_plan_says_by_how_much_it_beats_first_come() -> None:
    plan = solve(drawn(0))
    better = replace(plan, first_come=plan.output.worth / 2)
    assert "That is 100% more than first come, first placed." in better.explain()
