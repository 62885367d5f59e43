"""What is on order: never here, set against the buying, and counted from its day on."""

from __future__ import annotations

from dataclasses import replace

import pytest

from inventory.measures.lengths import feet
from inventory.needs.engine.problem import (
    EVER,
    Input,
    Item,
    Lot,
    NeedsProblem,
    Night,
    OnOrder,
    Recipe,
    Variant,
)
from inventory.needs.engine.solve import solve
from tests.inventory.needs.engine.some import sets_of_three, tube


def rings(*orders: OnOrder) -> NeedsProblem:
    """Eight rings a set, 40 in the box, nine sets wanted, three on each of three nights."""
    nights = tuple(Night(f"2030-12-{day:02}", 3) for day in (1, 8, 15))
    return NeedsProblem(
        (Item("set"), Item("ring", on_hand=40, pack=10, lead_days=2, orders=orders)),
        (Recipe("set", (Input("ring", 8),)),),
        (Variant("set", 9),),
        nights,
    )


def test_what_is_on_order_makes_no_set_possible_now():
    assert solve(rings(OnOrder(100, "2030-11-30"))).mix.sets == 5


def test_what_comes_in_time_is_not_bought_and_stops_nothing():
    plan = solve(rings(OnOrder(32, "2030-12-08")))
    assert (plan.buy, plan.stops_first) == ((), None)
    assert plan.runs_out[0].is_covered
    assert plan.is_legal()


def test_what_comes_a_day_too_late_stops_the_night_before():
    plan = solve(rings(OnOrder(32, "2030-12-09")))
    assert plan.buy == ()
    assert (plan.stops_first.item, plan.stops_first.on_night) == ("ring", "2030-12-08")


def test_an_order_without_a_day_is_not_bought_again_and_not_counted_on():
    plan = solve(rings(OnOrder(32)))
    assert plan.buy == ()
    assert plan.stops_first.on_night == "2030-12-08"


def test_only_what_no_order_covers_is_bought_for_the_night_it_is_short():
    """72 rings for nine sets, 40 here and 15 coming: 17 short, on the third night."""
    (line,) = solve(rings(OnOrder(15, "2030-12-02"))).buy
    assert (line.short, line.quantity, line.needed_on) == (17, 20, "2030-12-15")
    assert line.order_by == "2030-12-13"


def test_the_explosion_says_what_is_on_order():
    need = solve(rings(OnOrder(15, "2030-12-02"))).need("ring")
    assert (need.gross, need.there, need.on_order, need.net) == (72, 40, 15, 17)


def test_sticks_on_order_give_pieces_from_their_day_on():
    problem = sets_of_three()
    before = solve(problem)
    sticks = tube(Lot(feet(20), 4), orders=(OnOrder(11, "2030-11-12", feet(20)),))
    items = tuple(sticks if item.key == "tube" else item for item in problem.items)
    after = solve(replace(problem, items=items))
    assert next(line for line in before.buy if line.item == "tube").short == 11
    assert not [line for line in after.buy if line.item == "tube"]
    assert next(line for line in after.runs_out if line.item == "tube").is_covered


def test_a_made_part_on_order_takes_nothing_to_make():
    problem = sets_of_three()
    heads = Item("head", on_rack=6, orders=(OnOrder(40, "2030-11-01"),))
    items = tuple(heads if item.key == "head" else item for item in problem.items)
    need = solve(replace(problem, items=items)).need("head")
    assert (need.required, need.on_order, need.net, need.started) == (27, 40, 0, 0)


def test_what_came_is_no_longer_on_order():
    item = Item("ring", on_hand=1, orders=(OnOrder(5, "2030-12-02"), OnOrder(7)))
    assert item.on("2030-12-01") == Item("ring", on_hand=1)
    assert (item.there_on("2030-12-02"), item.there_on(EVER)) == (6, 13)


@pytest.mark.parametrize("order", [OnOrder(1, None, 5)])
def test_a_length_is_given_for_sticks_alone(order):
    with pytest.raises(ValueError, match="length is given for sticks"):
        Item("ring", orders=(order,))
    with pytest.raises(ValueError, match="length is given for sticks"):
        tube(orders=(OnOrder(1),))


@pytest.mark.parametrize(
    ("given", "says"),
    [((-1,), "not be less than 0"), ((1, "soon"), "must be a date"), ((1, None, 0), "more than 0")],
)
def test_an_order_that_makes_no_sense_is_refused(given, says):
    with pytest.raises(ValueError, match=says):
        OnOrder(*given)
