"""The buy list: packs, days, last chances."""

from __future__ import annotations

from inventory.needs.engine.plan import Buy
from inventory.needs.engine.problem import Input, Item, NeedsProblem, Night, Recipe, Variant
from inventory.needs.engine.solve import solve
from tests.inventory.needs.engine.some import sets_of_three


def straw(today: str = "2030-10-01", **item: object) -> Buy:
    """A set takes 2 of straw; 10 wanted, one a night from 1 December, 5 on hand."""
    raw: dict[str, object] = {"key": "straw", "on_hand": 5, "lead_days": 7, "pack": 4}
    problem = NeedsProblem(
        (Item("set"), Item(**{**raw, **item})),  # type: ignore[arg-type]
        (Recipe("set", (Input("straw", 2),)),),
        (Variant("set", 10),),
        tuple(Night(f"2030-12-{day:02}", sets=1) for day in range(1, 11)),
        today,
    )
    return solve(problem).buy[0]


def test_whole_packs_are_bought_a_lead_time_before_the_first_short_night():
    """20 less 5 is 15, four packs of 4; the third night needs 6: order a week before it."""
    line = straw()
    assert (line.short, line.packs, line.quantity) == (15, 4, 16)
    assert (line.needed_on, line.order_by, line.is_late) == ("2030-12-03", "2030-11-26", False)


def test_an_order_day_that_has_passed_is_late():
    assert straw(today="2030-11-27").is_late


def test_goods_with_a_last_day_are_ordered_by_it():
    line = straw(last_order="2030-10-15")
    assert (line.order_by, line.is_one_chance, line.is_gone) == ("2030-10-15", True, False)


def test_goods_whose_last_day_has_passed_are_gone():
    line = straw(today="2030-10-20", last_order="2030-10-15")
    assert line.is_gone
    assert line.is_late


def test_what_must_always_be_kept_is_bought_back_even_when_nothing_is_wanted():
    problem = NeedsProblem((Item("gloves", on_hand=2, keep_at_least=6, pack=5),), (), ())
    (line,) = solve(problem).buy
    assert (line.short, line.quantity, line.order_by) == (4, 5, None)


def test_sticks_are_bought_in_bundles_after_the_rack_is_used_up():
    """25 posts, 23 heads from 20 ft: 2 posts and a head fill a stick; see the cut list."""
    line = next(line for line in solve(sets_of_three()).buy if line.item == "tube")
    assert (line.short, line.packs, line.quantity, line.is_exact) == (11, 3, 15, True)


def test_nothing_short_is_nothing_to_buy():
    assert solve(sets_of_three(5)).buy == ()
