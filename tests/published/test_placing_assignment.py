"""The placing engine against worked assignment problems and against trying everything.

An assignment of people to stations is the smallest night: one block, one place at a station,
what a person makes there in the table.
"""

from __future__ import annotations

import random
from collections.abc import Iterable
from itertools import product

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from tests.bench.placing_nights import night as drawn
from workshops.nights.engine.board import Board
from workshops.nights.engine.making import expected_output
from workshops.nights.engine.params import PlacingParams
from workshops.nights.engine.people import Person, Span
from workshops.nights.engine.placings import Placing, Role, Watching
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.rules import breaches_of
from workshops.nights.engine.solve import solve
from workshops.nights.engine.stations import Operation, Piece, Station

EXACT = PlacingParams(gap=0.0)
TOP = 1000  # points against which a cost is set, so that the least cost is the most worth

WORKED = [
    ([[400, 150, 400], [400, 450, 600], [300, 225, 300]], 850),
    ([[400, 150, 400, 1], [400, 450, 600, 2], [300, 225, 300, 3]], 452),
    ([[10, 10, 8], [9, 8, 1], [9, 7, 4]], 18),
    ([[10, 10, 8, 11], [9, 8, 1, 1], [9, 7, 4, 10]], 15),
]


def assignment_night(costs: list[list[int]]) -> Problem:
    """Person i makes (1000 - cost) / 100 pieces worth 100 at station j in the one block."""
    columns = range(len(costs[0]))
    people = tuple(
        Person(f"p{i}", f"P{i}", present=(Span(0, 60),),
               rates={f"s{j}": (TOP - row[j]) / 100 for j in columns})
        for i, row in enumerate(costs)
    )  # fmt: skip
    return Problem(
        "2031-01-16", (Span(0, 60),), 60, people=people,
        stations=tuple(Station(f"s{j}", f"S{j}", "hall") for j in columns),
        operations=tuple(Operation(f"o{j}", f"s{j}", "work", 60, f"x{j}") for j in columns),
        pieces=tuple(Piece(f"x{j}", f"X{j}", 100) for j in columns),
    )  # fmt: skip


@pytest.mark.parametrize(("costs", "least"), WORKED)
def test_worked_assignment_problems_come_out_at_their_least_cost(
    costs: list[list[int]], least: int
) -> None:
    """Source: the worked cases in scipy's own tests of linear_sum_assignment."""
    plan = solve(assignment_night(costs), params=EXACT)
    assert len(costs) * TOP - plan.output.worth == pytest.approx(least)


@pytest.mark.parametrize("seed", range(8))
def test_drawn_assignments_agree_with_an_independent_solver(seed: int) -> None:
    """Source: scipy.optimize.linear_sum_assignment, an independent reference implementation."""
    draw = random.Random(seed)
    rows, columns = draw.randint(2, 7), draw.randint(7, 9)
    costs = [[draw.randint(1, 900) for _ in range(columns)] for _ in range(rows)]
    i, j = linear_sum_assignment(np.array(costs))
    plan = solve(assignment_night(costs), params=EXACT)
    assert rows * TOP - plan.output.worth == pytest.approx(np.array(costs)[i, j].sum())


def every_board(problem: Problem) -> list[Board]:
    """Every legal way to place everybody in every block, one bench a station."""
    spots = [(each.id, block) for each in problem.people for block in range(len(problem.blocks))]
    choices = [[None, *_choices(problem, person, block)] for person, block in spots]
    boards = [_board(problem, chosen) for chosen in product(*choices)]
    return [board for board in boards if not breaches_of(board)]


def _choices(problem: Problem, person: str, block: int) -> list[Placing | Watching]:
    """What the rules about one person leave; the rest is tried."""
    found: list[Placing | Watching] = [_watching(problem, person, block)]
    for station in problem.benches:
        found.append(Placing(person, block, station.id))
        found.append(Placing(person, block, station.id, 1, Role.LEARNS))
    alone = ("sign_off", "barred", "prerequisites", "minimum_age", "presence", "breaks",
             "personal_limits", "minor_hours", "last_spark", "fire_watch_only")  # fmt: skip
    return [
        each
        for each in found
        if not {breach.rule for breach in breaches_of(_board(problem, (each,)))} & set(alone)
    ]


def _board(problem: Problem, chosen: Iterable[Placing | Watching | None]) -> Board:
    placed = tuple(chosen)
    return Board(
        problem,
        tuple(each for each in placed if isinstance(each, Placing)),
        tuple(each for each in placed if isinstance(each, Watching)),
    )


def _watching(problem: Problem, person: str, block: int) -> Watching:
    """Up to the next block; the last one to lock-up, when the watch has long ended."""
    spans = problem.blocks
    end = spans[block + 1].start if block + 1 < len(spans) else problem.lock_up
    return Watching(person, "steel", block, spans[block].start, end)


@pytest.mark.parametrize("seed", [0, 2, 3, 4, 7, 8])
def test_no_way_of_placing_a_tiny_night_makes_more_than_the_plan(seed: int) -> None:
    """Source: exhaustive search over all placings of three people, by the rules alone."""
    problem = drawn(seed, 3, 2, 4)
    plan = solve(problem, params=EXACT)
    most = max(expected_output(problem, board.placings).worth for board in every_board(problem))
    assert plan.is_legal()
    assert plan.output.worth == pytest.approx(most, abs=0.01)
