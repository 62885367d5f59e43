"""Five hundred tiny cut lists against trying everything: no wrong best, ever.

A search over a restricted set of patterns can look proven and be wrong where drops are few;
half of these cases have few.
"""

from __future__ import annotations

import random

import pytest

from inventory.cutting.engine.solve import solve
from tests.inventory.cutting.engine.brute import least_cost, tiny_problem


@pytest.mark.parametrize("block", range(10))
def test_fifty_tiny_cut_lists_are_proven_and_right(block: int):
    for seed in range(50 * block, 50 * block + 50):
        problem = tiny_problem(random.Random(seed))
        plan = solve(problem)
        assert plan.breaches() == (), seed
        assert (plan.metal_missing, plan.cost) == least_cost(problem), seed
        assert plan.is_proven, seed
