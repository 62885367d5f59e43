"""Saved nights, held by bounds: what was once proven must not get worse.

Each file has the problem, and the worth that a plan must reach and cannot pass.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from inventory.engines.stop import Seconds
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.solve import solve

CASES = sorted((Path(__file__).parents[4] / "fixtures/engine_cases/placing").glob("*.json"))


def test_there_are_saved_cases() -> None:
    assert len(CASES) >= 6


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_a_saved_night_reaches_its_worth_and_breaks_no_rule(path: Path) -> None:
    case = json.loads(path.read_text(encoding="utf-8"))
    plan = solve(Problem.from_json(case["problem"]), Seconds(30))
    assert plan.is_legal(), plan.breaches
    assert case["worth_at_least"] <= plan.output.worth <= case["worth_at_most"]
    closed = {each.station for each in plan.closed if each.rules}
    assert closed == set(case["closed_by_a_rule"])
