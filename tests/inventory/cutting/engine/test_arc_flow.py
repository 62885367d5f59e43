"""Two hundred random cut lists against a general-purpose solver on another formulation.

The flows know positions on a stick and nothing else, so they share no line, no bound and no
pattern with the engine; kerf, trim, few drops, prices and kept remnants are all in them.
"""

from __future__ import annotations

import random

import pytest

from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.engine.solve import solve
from tests.inventory.cutting.engine.arc_flow import least_cost_by_flow

BLOCK = 25


def random_list(draw: random.Random) -> CutProblem:
    """2-4 lengths, up to 28 pieces, a stick to buy, one that may run out, a few drops."""
    kerf = draw.choice([0, 1, 1, 2])
    lengths = draw.sample(range(6, 30), draw.randint(2, 4))
    costs = draw.random() < 0.3

    def stick(label: str, low: int, high: int, count: int | None, is_drop: bool = False) -> Stick:
        price = draw.randint(5, 60) if costs else None
        return Stick(label, draw.randint(low, high), count, price, is_drop)

    return CutProblem(
        tuple(Piece(f"p{k}", size, draw.randint(1, 7)) for k, size in enumerate(lengths)),
        (
            stick("bought", 45, 80, None),
            stick("few", 30, 60, draw.randint(1, 6)),
            stick("drop", 12, 40, draw.randint(1, 3), True),
            stick("other drop", 12, 40, draw.randint(1, 2), True),
        ),
        kerf=kerf,
        trim=draw.choice([0, kerf, kerf + 1]),
        keep_length=draw.choice([None, 10, 20]),
        keep_percent=draw.choice([50, 80]),
    )


@pytest.mark.parametrize("block", range(8))
def test_random_cut_lists_cost_what_the_flows_say(block: int):
    for seed in range(BLOCK * block, BLOCK * (block + 1)):
        problem = random_list(random.Random(f"flow {seed}"))
        plan = solve(problem)
        assert plan.breaches() == (), seed
        assert plan.is_proven, seed
        assert plan.cost == least_cost_by_flow(problem), seed


def test_the_flows_are_right_where_they_are_counted_by_hand():
    """Two of 50 with a kerf of 1 need 101: one stick of 101, or two of 100."""
    pieces = (Piece("p", 50, 2),)
    assert least_cost_by_flow(CutProblem(pieces, (Stick("s", 101),), kerf=1)) == 101
    assert least_cost_by_flow(CutProblem(pieces, (Stick("s", 100),), kerf=1)) == 200
    assert least_cost_by_flow(CutProblem(pieces, (Stick("s", 100, 1),), kerf=1)) is None
