"""Saved winters, held by bounds: the medians may move a little with the draws, not more."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from inventory.engines.stop import Seconds
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.problem import from_json
from workshops.season.engine.solve import solve

CASES = sorted((Path(__file__).parents[4] / "fixtures/engine_cases/outlook").glob("*.json"))


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_a_saved_winter_stays_within_its_bounds(path: Path) -> None:
    case = json.loads(path.read_text(encoding="utf-8"))
    problem, params = from_json(case["problem"]), OutlookParams(winters=2000)
    outlook = solve(problem, stop=Seconds(60), seed=11, params=params)
    band, chance = outlook.at_end, outlook.chance_of_target.share
    found = {"median": band.median, "low_80": band.low_80, "high_80": band.high_80}
    outside = {k: v for k, v in found.items() if not case[k][0] <= v <= case[k][1]}
    assert outside == {}
    assert case["chance"][0] <= chance <= case["chance"][1]
    assert outlook.is_legal()
