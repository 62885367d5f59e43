"""The recount: a spoilt answer is caught, whatever is wrong with it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from inventory.needs.engine.plan import Need, NeedsPlan
from tests.inventory.needs.engine.test_plan import PLAN


def with_need(item: str, **changes: int) -> NeedsPlan:
    def changed(need: Need) -> Need:
        return replace(need, **changes) if need.item == item else need  # type: ignore[arg-type]

    return replace(PLAN, needs=tuple(changed(need) for need in PLAN.needs))


SPOILT = {
    "a need that does not follow from its users": with_need("head", required=26),
    "a net that does not follow from stock": with_need("wire", net=19),
    "fewer started than needed": with_need("post", started=20),
    "more sets than the parts give": replace(
        PLAN, mix=replace(PLAN.mix, sets=11, parts={"set": 11})
    ),
    "parts that are not the sets": replace(PLAN, mix=replace(PLAN.mix, sets=9)),
    "a short item not bought": replace(PLAN, buy=PLAN.buy[1:]),
    "a broken pack": replace(PLAN, buy=(PLAN.buy[0], replace(PLAN.buy[1], quantity=11))),
    "a pack too many": replace(PLAN, buy=(PLAN.buy[0], replace(PLAN.buy[1], quantity=20, packs=4))),
    "a wrong order day": replace(
        PLAN, buy=(PLAN.buy[0], replace(PLAN.buy[1], order_by="2030-11-07"))
    ),
    "late or not": replace(PLAN, buy=(replace(PLAN.buy[0], is_late=True), PLAN.buy[1])),
}


@pytest.mark.parametrize("plan", SPOILT.values(), ids=SPOILT.keys())
def test_a_spoilt_plan_is_caught(plan):
    assert not plan.is_legal()
