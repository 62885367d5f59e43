"""Saved needs: what is possible, what stops it, what is bought by when."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from inventory.needs.engine.problem import NeedsProblem
from inventory.needs.engine.solve import solve

CASES = sorted((Path(__file__).parents[4] / "fixtures" / "engine_cases" / "needs").glob("*.json"))


def test_there_are_saved_cases():
    assert len(CASES) >= 3


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_saved_needs_are_answered_alike(path: Path):
    case = json.loads(path.read_text(encoding="utf-8"))
    plan = solve(NeedsProblem.from_json(case["problem"]))
    assert plan.breaches() == ()
    assert plan.mix.sets == case["sets_possible"]
    assert list(plan.mix.stopped_by) == case["stopped_by"]
    assert {line.item: [line.quantity, line.order_by] for line in plan.buy} == case["buy"]
