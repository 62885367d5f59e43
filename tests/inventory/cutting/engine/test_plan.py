"""The answer: what it counts, and that a spoilt plan is caught."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from inventory.cutting.engine.plan import Cut, CutPlan, Drop, Missing, Run
from inventory.cutting.engine.problem import CutProblem, Piece, Stick

PROBLEM = CutProblem(
    (Piece("stem", 40, 3), Piece("bar", 20, 1)),
    (Stick("long", 100, 2), Stick("short", 60, 1)),
    kerf=2,
    keep_length=30,
    keep_percent=50,
)
TWO = Run("long", 100, 1, (Cut("stem", 0, 40), Cut("stem", 42, 82)), 16, False)
MIXED = Run("short", 60, 1, (Cut("stem", 0, 40),), 18, False)
LAST = Run("long", 100, 1, (Cut("bar", 0, 20),), 78, True)
PLAN = CutPlan(PROBLEM, (TWO, MIXED, LAST), (), cost=221, bound=200, seconds=0.1)


def test_a_plan_counted_by_hand():
    """Three sticks of 260; 140 in pieces; a drop of 78 back at half: 260 - 39 = 221."""
    assert PLAN.breaches() == ()
    assert (PLAN.stick_count, PLAN.metal_out, PLAN.metal_made) == (3, 260, 140)
    assert PLAN.drops == (Drop("long", 78, 1),)
    assert PLAN.scrap == 260 - 140 - 78
    assert PLAN.sticks_out == {"long": 2, "short": 1}
    assert PLAN.made == {"stem": 3, "bar": 1}
    assert PLAN.stop_changes == 2


def test_the_gap_is_a_share_of_the_cost():
    assert PLAN.gap == pytest.approx(21 / 221)
    assert not PLAN.is_proven
    assert replace(PLAN, bound=221).is_proven


def test_a_plan_that_may_miss_less_is_not_proven():
    missing = (Missing("bar", 20, 1, 22, False),)
    short = replace(PLAN, runs=(TWO, MIXED), missing=missing, cost=160, bound=160)
    assert short.breaches() == ()
    assert not short.is_proven
    assert replace(short, least_missing=22).is_proven


def test_json_carries_marks_and_totals():
    told = json.loads(json.dumps(PLAN.to_json()))
    assert told["runs"][0]["marks"] == [40, 82]
    assert (told["scrap"], told["is_proven"], told["cost"]) == (42, False, 221)
    assert told["drops"] == [{"stick": "long", "length": 78, "count": 1}]
