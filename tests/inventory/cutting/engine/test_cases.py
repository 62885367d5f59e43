"""Saved cut lists, held by bounds: another plan of the same cost is as good."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from inventory.cutting.engine.problem import CutProblem
from inventory.cutting.engine.solve import solve
from inventory.engines.stop import Seconds

CASES = sorted((Path(__file__).parents[4] / "fixtures" / "engine_cases" / "cutlist").glob("*.json"))


def test_there_are_saved_cases():
    assert len(CASES) >= 7


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_a_saved_cut_list_stays_within_its_bounds(path: Path):
    case = json.loads(path.read_text(encoding="utf-8"))
    plan = solve(CutProblem.from_json(case["problem"]), Seconds(4))
    assert plan.breaches() == ()
    assert plan.metal_missing == case["metal_missing"]
    assert case["least_cost"] <= plan.cost <= case["found_cost"] * 1.001
    assert plan.bound <= case["found_cost"]
