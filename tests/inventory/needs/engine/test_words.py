"""Needs in words."""

from __future__ import annotations

from inventory.needs.engine.problem import Item, NeedsProblem
from inventory.needs.engine.solve import solve
from tests.inventory.needs.engine.some import sets_of_three, two_variants


def buying(**item: object) -> str:
    """The sentence for one item of which six are always kept and two are there."""
    raw: dict[str, object] = {"key": "gloves", "on_hand": 2, "keep_at_least": 6}
    gloves = Item(**{**raw, **item})  # type: ignore[arg-type]
    return solve(NeedsProblem((gloves,), (), (), today="2030-10-20")).explain()[-1]


def test_what_no_night_needs_yet_says_so():
    assert buying() == "Buy 4 gloves (4 short); no planned night needs it yet."


def test_the_supplier_is_named():
    assert buying(supplier="the co-op").startswith("Buy 4 gloves (4 short) from the co-op")


def test_what_cannot_be_had_any_more_asks_for_another():
    said = buying(last_order="2030-10-15")
    assert said.endswith("it cannot be had any more this season; look for another.")


def test_a_day_that_has_passed_is_said():
    said = solve(sets_of_three(today="2030-11-08")).explain()
    assert said[-1] == "Buy 15 tube (11 short); order by 2030-11-06, which has passed."


def test_several_things_in_the_way_are_listed():
    mix = solve(two_variants(head=4, long_post=9, short_post=1)).explain()[0]
    assert mix.endswith("one more short lacks head and short post; one more tall lacks head.")
