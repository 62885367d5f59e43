"""The answer: recounted, spoilt, told in words and JSON."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from inventory.needs.engine.plan import Need, NeedsPlan
from inventory.needs.engine.solve import solve
from tests.inventory.needs.engine.some import sets_of_three, two_variants

PLAN = solve(sets_of_three())


def with_need(item: str, **changes: int) -> NeedsPlan:
    def changed(need: Need) -> Need:
        return replace(need, **changes) if need.item == item else need  # type: ignore[arg-type]

    return replace(PLAN, needs=tuple(changed(need) for need in PLAN.needs))


def test_the_plan_is_legal_as_solved():
    assert PLAN.breaches() == ()


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


def test_what_runs_out_first_is_asked_for_by_name():
    assert PLAN.stops_first is not None
    assert PLAN.stops_first.item == "wire"
    assert solve(sets_of_three(5)).stops_first is None


def test_the_answer_in_words():
    assert PLAN.explain() == (
        "10 of 30 wanted sets are possible now, 3 of them finished; the next one lacks wire.",
        "With the usual scrap, wire runs out first, after 10 sets, on the night of 2030-11-14.",
        "Buy 20 wire (20 short); order by 2030-11-01; there is only this chance.",
        "Buy 15 tube (11 short); order by 2030-11-06.",
    )


def test_each_variant_is_told_when_there_are_several():
    said = solve(two_variants(head=9, long_post=20, short_post=7)).explain()
    assert "With all parts put into tall: 9; the next lacks head." in said


def test_nothing_wanted_and_nothing_short_is_said():
    assert solve(two_variants(0, 0)).explain()[-1] == "Nothing runs out."


def test_json_can_be_written_and_says_the_same():
    told = json.loads(json.dumps(PLAN.to_json()))
    assert told["mix"]["sets"] == 10
    assert told["buy"][1]["quantity"] == 15
    assert told["explanation"] == list(PLAN.explain())
