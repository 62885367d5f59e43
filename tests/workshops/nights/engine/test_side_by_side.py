"""Learners stand at the bench of the lead who is to teach them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from inventory.engines.stop import Seconds
from tests.workshops.nights.engine.small import bench, night, person
from workshops.nights.engine.locks import LockRefused, check_together
from workshops.nights.engine.placings import Beside, Lock, Role
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.side_by_side import side_by_side
from workshops.nights.engine.solve import solve

PEOPLE = [
    person("ada", "drill may_lead"), person("bo", "drill may_lead"),
    person("eli", "drill with_a_lead"), person("flo", "drill with_a_lead"),
]  # fmt: skip
CREW = (("ada", "bo"), ("eli", "flo"))


def two_benches(*beside: Beside, **facts: object) -> Problem:
    """Two leads and two learners at two benches for two."""
    return night(PEOPLE, [bench("drill", benches=2, crew_max=2)], beside=beside, **facts)


def at_benches(problem: Problem) -> dict[str, int]:
    """Everybody's bench once pairs have met, from Ada with Eli and Bo with Flo."""
    return side_by_side(problem, "drill", {"ada": 1, "eli": 1, "bo": 2, "flo": 2}, kinds=CREW)


def test_a_learner_changes_places_to_stand_beside_their_lead():
    at = at_benches(two_benches(Beside("eli", "bo", "drill")))
    assert (at["eli"], at["bo"], at["flo"]) == (2, 2, 1)


def test_pairs_already_put_together_are_not_parted_by_the_next():
    at = at_benches(two_benches(Beside("eli", "bo", "drill"), Beside("flo", "ada", "drill")))
    assert at["eli"] == at["bo"] != at["flo"] == at["ada"]


def test_every_bench_keeps_as_many_of_each_kind():
    at = at_benches(two_benches(Beside("eli", "bo", "drill")))
    for kind in CREW:
        assert sorted(at[each] for each in kind) == [1, 2]


def test_without_anybody_to_change_with_the_lead_comes_over():
    at = {"ada": 1, "bo": 2, "eli": 1}
    met = side_by_side(two_benches(Beside("eli", "bo", "drill")), "drill", at, kinds=CREW)
    assert met == {"ada": 2, "bo": 1, "eli": 1}


@pytest.mark.parametrize(("learner", "lead"), [("eli", "bo"), ("eli", "ada"), ("flo", "ada")])
def test_a_plan_has_the_pair_at_one_bench(learner: str, lead: str):
    locks = (Lock(learner, 0, "drill", Role.LEARNS), Lock(lead, 0, "drill"))
    plan = solve(two_benches(Beside(learner, lead, "drill"), locks=locks), stop=Seconds(5))
    benches = {each.person: each.bench for each in plan.placings}
    assert benches[learner] == benches[lead]
    assert plan.is_legal()


def test_a_pair_that_names_nobody_is_refused():
    with pytest.raises(ValueError, match="beside: person"):
        two_benches(Beside("eli", "nobody", "drill"))


def test_a_problem_with_pairs_is_read_back_as_it_was():
    problem = two_benches(Beside("eli", "bo", "drill"))
    assert Problem.from_json(problem.to_json()) == problem


def test_what_is_fixed_is_looked_at_together_without_making_a_plan():
    both = two_benches(locks=(Lock("eli", 0, "drill", Role.LEARNS), Lock("bo", 0, "drill")))
    check_together(both, Seconds(5))
    alone = night(PEOPLE[2:], [bench("drill")], locks=(Lock("eli", 0, "drill", Role.LEARNS),))
    with pytest.raises(LockRefused):
        check_together(replace(alone), Seconds(5))
