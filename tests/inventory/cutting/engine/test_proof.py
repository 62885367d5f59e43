"""The proof: what is listed, and that a worse start is improved to the best."""

from __future__ import annotations

import random

import pytest

from inventory.cutting.engine.generate import generate
from inventory.cutting.engine.model import reduce
from inventory.cutting.engine.params import CuttingParams
from inventory.cutting.engine.patterns import Pattern
from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.engine.proof import close
from inventory.cutting.engine.search import Clock, Search
from inventory.engines.stop import Seconds
from tests.inventory.cutting.engine.brute import least_cost, tiny_problem


def one_by_one(problem: CutProblem) -> Search:
    """A search that begins with every piece on a stick of its own."""
    figures = reduce(problem)
    longest = max(range(len(figures.sticks)), key=lambda j: figures.rooms[j])
    start = {
        Pattern(longest, tuple(int(k == i) for k in range(len(figures.sizes)))): want
        for i, want in enumerate(figures.demand)
    }
    return Search(figures, CuttingParams(), Clock(Seconds(10)), 1, start)


def plentiful() -> list[CutProblem]:
    """Tiny lists whose sticks are all to be had and long enough."""
    tiny = (tiny_problem(random.Random(seed)) for seed in range(300))
    return [
        problem
        for problem in tiny
        if all(stick.count is None for stick in problem.sticks) and not least_cost(problem)[0]
    ]


def test_there_are_plentiful_lists_to_close():
    assert len(plentiful()) >= 30


@pytest.mark.parametrize("problem", plentiful())
def test_the_worst_start_is_closed_at_the_best(problem: CutProblem):
    search = one_by_one(problem)
    found = generate(search)
    assert found is not None
    close(search, *found)
    assert search.is_closed
    assert search.cost == least_cost(problem)[1]


def test_few_patterns_allowed_leave_an_honest_bound():
    pieces = tuple(Piece(f"p{k}", size, 7) for k, size in enumerate((13, 17, 19, 23, 29)))
    problem = CutProblem(pieces, (Stick("s", 100), Stick("t", 71)), keep_length=20)
    search = one_by_one(problem)
    search.params = CuttingParams(most_patterns=1)
    found = generate(search)
    assert found is not None
    close(search, *found)
    assert search.bound <= search.cost
