"""The recount: a spoilt cut list is caught, whatever is wrong with it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from inventory.cutting.engine.plan import Cut, Run
from tests.inventory.cutting.engine.test_plan import LAST, MIXED, PLAN, TWO

SPOILT = {
    "a piece too few": replace(PLAN, runs=(TWO, LAST)),
    "a stick too many": replace(PLAN, runs=(TWO, replace(MIXED, times=2), LAST)),
    "no kerf between": replace(
        PLAN, runs=(replace(TWO, cuts=(Cut("stem", 0, 40), Cut("stem", 40, 80))), MIXED, LAST)
    ),
    "a piece too short": replace(
        PLAN, runs=(TWO, replace(MIXED, cuts=(Cut("stem", 0, 39),)), LAST)
    ),
    "over the end": replace(
        PLAN,
        runs=(replace(TWO, stick="short", stick_length=60), replace(MIXED, stick="long"), LAST),
    ),
    "a wrong remnant": replace(PLAN, runs=(TWO, MIXED, replace(LAST, left_over=80))),
    "a drop thrown away": replace(PLAN, runs=(TWO, MIXED, replace(LAST, is_kept=False))),
    "a wrong cost": replace(PLAN, cost=220),
    "a bound above the cost": replace(PLAN, bound=230),
    "an unknown stick": replace(PLAN, runs=(TWO, MIXED, replace(LAST, stick="other"))),
    "an unknown piece": replace(PLAN, runs=(TWO, MIXED, replace(LAST, cuts=(Cut("x", 0, 20),)))),
    "a run without a cut": replace(
        PLAN, runs=(TWO, MIXED, LAST, Run("long", 100, 1, (), 100, True))
    ),
}


@pytest.mark.parametrize("plan", SPOILT.values(), ids=SPOILT.keys())
def test_a_spoilt_plan_is_caught(plan):
    assert not plan.is_legal()
