"""Place a night: production first, proven or with a stated gap, then the softer aims."""

from __future__ import annotations

import time

from inventory.engines.stop import Seconds
from workshops.nights.engine.assembly import assemble
from workshops.nights.engine.board import Board
from workshops.nights.engine.deal import deal
from workshops.nights.engine.greedy import first_come
from workshops.nights.engine.jobs import with_jobs
from workshops.nights.engine.locks import check_locks, refuse_together
from workshops.nights.engine.making import expected_output, standing
from workshops.nights.engine.output import Output
from workshops.nights.engine.params import PlacingParams
from workshops.nights.engine.plan import ROUNDING, Plan
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.rules import breaches_of
from workshops.nights.engine.search import (
    Clock,
    NothingStands,
    Search,
    most_made,
    softened,
    with_few_changes,
)


def solve(
    problem: Problem,
    stop: Seconds = Seconds(5),  # noqa: B008 - frozen
    seed: int = 7,
    params: PlacingParams = PlacingParams(),  # noqa: B008 - frozen
) -> Plan:
    """The best legal placing found in the time.

    Parameters
    ----------
    stop
        Wall clock for the whole call; a little more may pass.
    seed
        Of the solver: the same problem, seed and parameters give the same plan unless the
        time ran out.

    Returns
    -------
    Plan
        With ``proof`` and ``gap`` on what is made tonight; never one that makes less than
        first come, first placed (a re-plan may, to keep people in place). Nothing possible:
        an empty plan, with the reasons.

    Raises
    ------
    workshops.nights.engine.locks.LockRefused
        When a placing fixed by hand stands against a rule, with the rule's name.

    Notes
    -----
    First the most that can be made, as an integer programme over groups of people alike and
    kinds of benches. Then, with the same benches open, the softer aims as one weighted
    programme that keeps 99.9 % of it. A re-plan is one programme that charges every change.
    """
    started = time.perf_counter()
    clock = Clock(started + stop.seconds)
    check_locks(problem)
    boards = [first_come(problem)]
    searched, bound = _searched(problem, Search(clock, seed, params))
    boards = [with_jobs(each) for each in (*boards, *searched)]
    outputs = [expected_output(problem, board.placings) for board in boards]
    best = _better(problem, boards, outputs)
    return Plan(
        problem=problem,
        placings=boards[best].placings,
        watch=boards[best].watch,
        output=outputs[best],
        first_come=outputs[0].worth,
        first_come_output=outputs[0],
        bound=max(bound, outputs[best].worth),
        tolerance=params.gap,
        is_searched=best > 0,
        seconds=time.perf_counter() - started,
    )


def _searched(problem: Problem, search: Search) -> tuple[list[Board], float]:
    """The board that the search found, if any, and the most that any plan can make."""
    model = assemble(problem)
    if not model.programme.cost:
        return [Board(problem)], 0.0
    model.programme.offset = -standing(problem)[0]
    try:
        if problem.previous:
            found = with_few_changes(model, search)
        else:
            found = most_made(model, search)
            found = softened(model, found, search) if found.values.size else found
    except NothingStands:
        refuse_together(problem, search.clock.left())
        raise
    if not found.values.size:
        return [], found.bound
    return [Board(problem, *deal(model, found.values))], found.bound


def _better(problem: Problem, boards: list[Board], outputs: list[Output]) -> int:
    """0 for first come, first placed where the search found nothing better, else 1.

    A re-plan keeps people in place at the cost of some production: there only breaches
    count against what the search found.
    """
    if len(boards) < 2:
        return 0
    breaches = [len(breaches_of(board)) for board in boards]
    if breaches[0] != breaches[1]:
        return 0 if breaches[0] < breaches[1] else 1
    is_replan = bool(problem.previous)
    return 1 if is_replan or outputs[1].worth >= outputs[0].worth - ROUNDING else 0
