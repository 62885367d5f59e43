"""Two hundred random cut lists against SciPy's integer programmes over every pattern.

Every pattern of every stick is listed by plain counting; none of the engine's totals, prices
or programmes is used. SciPy calls a solver of the same family, so the opinion is independent
in what it is asked, not in who is asked; the brute force is independent in both.
"""

from __future__ import annotations

import random
from itertools import product

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.engine.solve import solve
from tests.inventory.cutting.engine.brute import cost_of_stick


def random_list(draw: random.Random) -> CutProblem:
    """2-4 lengths, up to 120 pieces, two lengths to buy, few drops, remnants sometimes kept."""
    lengths = draw.sample(range(20, 90), draw.randint(2, 4))
    drops = (
        Stick(f"d{k}", draw.randint(30, 150), draw.randint(1, 2), is_drop=True) for k in range(2)
    )
    return CutProblem(
        tuple(Piece(f"p{k}", size, draw.randint(1, 30)) for k, size in enumerate(lengths)),
        (Stick("a", draw.randint(100, 160)), Stick("b", draw.randint(161, 240)), *drops),
        kerf=draw.randint(0, 2),
        keep_length=draw.choice([None, 40]),
    )


def second_opinion(problem: CutProblem) -> int:
    """The least cost over every pattern, with exactly the pieces wanted."""
    lengths = [piece.length for piece in problem.pieces]
    costs, columns, kinds = [], [], []
    for kind, stick in enumerate(problem.sticks):
        most = [range(min(p.count, stick.length // p.length) + 1) for p in problem.pieces]
        for cut in product(*most):
            cost = cost_of_stick(problem, stick, lengths, cut)
            if any(cut) and cost is not None:
                costs.append(cost)
                columns.append(cut)
                kinds.append(kind)
    wanted = [piece.count for piece in problem.pieces]
    rows = [LinearConstraint(np.array(columns).T, wanted, wanted)]
    for kind, stick in enumerate(problem.sticks):
        if stick.count is not None:
            rows.append(LinearConstraint((np.array(kinds) == kind).astype(int), 0, stick.count))
    found = milp(
        costs, constraints=rows, integrality=np.ones(len(costs)), bounds=Bounds(0, np.inf),
        options={"mip_rel_gap": 0},
    )  # fmt: skip
    return round(found.fun)


@pytest.mark.parametrize("block", range(10))
def test_twenty_random_cut_lists_cost_what_scipy_says(block: int):
    for seed in range(20 * block, 20 * block + 20):
        problem = random_list(random.Random(seed))
        plan = solve(problem)
        assert (plan.cost, plan.is_proven) == (second_opinion(problem), True), seed
