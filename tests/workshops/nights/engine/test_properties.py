"""Whatever the night: every plan obeys every rule, and the order of input does not matter."""

from __future__ import annotations

import random
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from inventory.engines.stop import Seconds
from tests.bench.placing_nights import night as drawn
from tests.examples import examples
from workshops.nights.engine.board import Board
from workshops.nights.engine.greedy import first_come
from workshops.nights.engine.making import expected_output
from workshops.nights.engine.placings import Lock
from workshops.nights.engine.problem import Before, Problem
from workshops.nights.engine.rules import breaches_of
from workshops.nights.engine.solve import solve

QUICK = examples(12, derandomize=True)
ENOUGH = Seconds(20)
SIZES = st.sampled_from([(4, 2, 5), (6, 2, 8), (8, 2, 12), (9, 3, 7)])


@st.composite
def nights(draw: st.DrawFn) -> Problem:
    """A drawn night with some of its facts turned against it."""
    problem = drawn(draw(st.integers(0, 10_000)), *draw(SIZES))
    if draw(st.booleans()):  # one room for everything: sparks or straw
        stations = [replace(each, room="hall") for each in problem.stations]
        problem = replace(problem, stations=tuple(stations))
    if draw(st.booleans()):
        guarded = replace(
            problem.club, guardian_required=True, minors_per_adult=draw(st.integers(1, 3))
        )
        problem = replace(problem, club=guarded, people=_with_guardians(problem))
    if draw(st.booleans()):
        hours = replace(problem.club, minor_max_minutes=45, learner_ratio=draw(st.integers(0, 2)))
        problem = replace(problem, club=hours)
    return problem


def _with_guardians(problem: Problem) -> tuple[object, ...]:
    adults = [each.id for each in problem.people if problem.is_adult(each)]
    return tuple(
        each if problem.is_adult(each) else replace(each, guardians=tuple(adults[:2]))
        for each in problem.people
    )


@QUICK
@given(nights())
def test_no_plan_breaks_a_rule_and_none_makes_less_than_first_come(problem: Problem) -> None:
    plan = solve(problem, ENOUGH)
    assert plan.is_legal(), plan.breaches
    assert plan.is_searched
    assert plan.first_come - 1e-6 <= plan.output.worth <= plan.bound + 1e-6


@QUICK
@given(nights(), st.randoms(use_true_random=False))
def test_the_order_of_input_does_not_matter(problem: Problem, draw: random.Random) -> None:
    shuffled = {
        name: tuple(draw.sample(list(getattr(problem, name)), len(getattr(problem, name))))
        for name in ("people", "stations", "tools", "operations", "pieces", "materials", "sets")
    }
    first, again = solve(problem, ENOUGH), solve(replace(problem, **shuffled), ENOUGH)
    assert (first.placings, first.watch) == (again.placings, again.watch)


@QUICK
@given(nights(), st.integers(0, 1000))
def test_what_a_plan_has_can_be_fixed_by_hand_and_stays(problem: Problem, pick: int) -> None:
    plan = solve(problem, ENOUGH)
    known = plan.as_known()
    locks = tuple(known[(pick + i * 7) % len(known)] for i in range(min(3, len(known))))
    again = solve(replace(problem, locks=tuple(dict.fromkeys(locks))), ENOUGH)
    assert again.is_legal(), again.breaches
    assert again.output.worth >= plan.output.worth * (1 - 0.003) - 1e-6


@QUICK
@given(nights(), st.integers(0, 1000))
def test_a_replan_from_mid_night_obeys_every_rule(problem: Problem, pick: int) -> None:
    plan = solve(problem, ENOUGH)
    gone = problem.people[pick % len(problem.people)].id
    left = tuple(replace(each, present=()) if each.id == gone else each for each in problem.people)
    later = replace(
        problem,
        people=left,
        previous=plan.as_known(),
        before=Before(straw_rooms=("straw",) if pick % 2 else ("steel",)),
    )
    again = solve(later, ENOUGH)
    assert again.is_legal(), again.breaches


@QUICK
@given(nights())
def test_first_come_first_placed_is_legal_too(problem: Problem) -> None:
    board = first_come(problem)
    output = expected_output(problem, board.placings)
    assert breaches_of(Board(problem, board.placings, board.watch, output.made)) == ()


@QUICK
@given(nights())
def test_the_output_counts_up_from_the_racks(problem: Problem) -> None:
    """Recounted piece by piece: start, plus made, less used, is what stands there at the end."""
    output = solve(problem, ENOUGH).output
    for piece in problem.pieces:
        runs = {each.id: sum(output.made[each.id]) for each in problem.operations}
        made = sum(runs[o.id] * o.makes_count for o in problem.operations if o.makes == piece.id)
        used = sum(runs[o.id] * o.uses.get(piece.id, 0) for o in problem.operations)
        assert abs(piece.on_rack + made - used - output.racks[piece.id]) < 1e-3
        limit = piece.rack_limit
        assert limit is None or output.racks[piece.id] <= max(limit, piece.on_rack) + 1e-3


def test_a_lock_of_one_plan_is_a_placing_of_it() -> None:
    plan = solve(drawn(1, 12, 3, 7))
    assert len(plan.as_known()) == len(plan.placings) + len(plan.watch)
    assert all(isinstance(each, Lock) for each in plan.as_known())
