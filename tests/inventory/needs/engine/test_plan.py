"""The answer: recounted, spoilt, told in words and JSON."""

from __future__ import annotations

import json

from inventory.needs.engine.solve import solve
from tests.inventory.needs.engine.some import sets_of_three, two_variants

PLAN = solve(sets_of_three())


def test_the_plan_is_legal_as_solved():
    assert PLAN.breaches() == ()


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
