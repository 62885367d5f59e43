"""Lists that use every stick to the brim: found at once, or shown not to exist."""

from __future__ import annotations

import random

import pytest

from inventory.cutting.engine.brim import fill_to_the_brim
from inventory.cutting.engine.model import reduce
from inventory.cutting.engine.params import CuttingParams
from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.engine.search import Clock, Search
from inventory.cutting.engine.solve import solve
from inventory.engines.stop import Seconds
from tests.bench.bench_cutting import triplet_problem
from tests.inventory.cutting.engine.brute import least_cost, tiny_problem


def looked(problem: CutProblem) -> Search:
    search = Search(reduce(problem), CuttingParams(), Clock(Seconds(20)), 7)
    fill_to_the_brim(search)
    return search


def sticks(*pieces: tuple[int, int], stick: int = 100, **rest: int) -> CutProblem:
    wanted = tuple(Piece(f"p{length}", length, count) for length, count in pieces)
    return CutProblem(wanted, (Stick("s", stick),), **rest)


def test_pairs_that_fill_two_sticks_are_found_and_proven():
    search = looked(sticks((60, 1), (40, 1), (70, 1), (30, 1)))
    assert (search.cost, search.bound, search.is_closed) == (200, 200, True)


def test_a_kerf_that_fills_the_stick_counts():
    """49 + 1 + 50 is 100, and the last cut needs no kerf."""
    assert looked(sticks((49, 2), (50, 2), kerf=1)).is_closed


def test_where_no_stick_can_be_filled_the_bound_rises():
    """Three of 60 take 180, two sticks of metal; but no stick takes two of them."""
    search = looked(sticks((60, 3)))
    assert search.best is None
    assert search.bound == 300


def test_a_bound_that_rose_is_never_above_the_best():
    for seed in range(200):
        problem = tiny_problem(random.Random(f"brim {seed}"))
        missing, cost = least_cost(problem)
        if not missing:
            assert looked(problem).bound <= cost, seed


@pytest.mark.parametrize("seed", range(2))
def test_triplets_of_sixty_are_filled_to_the_brim(seed: int):
    plan = solve(triplet_problem(20, seed), Seconds(20))
    assert (plan.stick_count, plan.scrap, plan.is_proven) == (20, 0, True)
