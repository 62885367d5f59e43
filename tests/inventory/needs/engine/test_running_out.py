"""What runs out after how many sets, and on which night."""

from __future__ import annotations

from dataclasses import replace

from inventory.cutting.engine.search import Clock
from inventory.engines.stop import Seconds
from inventory.needs.engine.params import NeedsParams
from inventory.needs.engine.plan import RunsOut
from inventory.needs.engine.problem import Input, Item, NeedsProblem, Night, Recipe, Variant
from inventory.needs.engine.running_out import runs_out
from inventory.needs.engine.sticks import Steel
from tests.inventory.needs.engine.some import sets_of_three


def answer(problem: NeedsProblem) -> tuple[RunsOut, ...]:
    return runs_out(problem, Steel(Clock(Seconds(20)), NeedsParams(), 7))


def rings(*nights: Night, scrap: int = 0) -> NeedsProblem:
    """Eight rings a set, 40 in the box."""
    return NeedsProblem(
        (Item("set"), Item("ring", on_hand=40)),
        (Recipe("set", (Input("ring", 8),), scrap_per_mille=scrap),),
        (Variant("set", 9),),
        nights,
    )


def test_nothing_runs_out_when_all_lasts():
    assert answer(sets_of_three(5)) == ()


def test_sets_and_nights_counted_by_hand():
    """Wire for 7 beside 3 finished: 10 sets. Three a night: 6, 9, then 12 on the third night."""
    first = answer(sets_of_three())[0]
    assert first == RunsOut("wire", 10, 2, "2030-11-14")


def test_steel_lasts_until_the_cut_list_says_no():
    """Posts: 2 on the rack and two of 90 in from each of four sticks, heads from the rest."""
    tube = answer(sets_of_three())[1]
    assert (tube.item, tube.after_sets, tube.on_night) == ("tube", 12, "2030-11-16")


def test_without_nights_there_is_no_date():
    assert answer(rings()) == (RunsOut("ring", 5, None, None),)


def test_nights_that_do_not_get_there_give_no_date():
    assert answer(rings(Night("2030-12-01", 5))) == (RunsOut("ring", 5, None, None),)


def test_planned_pieces_use_up_what_their_recipe_takes():
    """40 rings: 24 on the first night, 24 more on the second are 8 too many."""
    nights = (Night("2030-12-01", 0, {"set": 3}), Night("2030-12-03", 0, {"set": 3}))
    assert answer(rings(*nights)) == (RunsOut("ring", 5, 1, "2030-12-03"),)


def test_expected_scrap_brings_the_end_nearer():
    """With one in five failing, 5 sets take 7 started and 56 rings; 4 take 5 and 40."""
    assert answer(rings(scrap=200))[0].after_sets == 4


def test_pieces_beyond_what_is_wanted_take_nothing():
    """Nine sets take 72 rings; a pace of twenty a night is cut off at nine."""
    nights = (Night("2030-12-01", 0, {"set": 5}), Night("2030-12-03", 0, {"set": 20}))
    problem = rings(*nights)
    plenty = (Item("set"), Item("ring", on_hand=72))
    assert answer(replace(problem, items=plenty)) == ()
    assert answer(replace(problem, items=(Item("set"), Item("ring", on_hand=71))))[0].on_night


def test_steel_is_short_on_the_night_it_is_cut_and_not_when_the_set_is_whole():
    """Planned pieces: posts are cut on the first night, the sets are whole on the second."""
    items = (Item("set"), Item("post"), Item("tube", on_hand=1), Item("ring", on_hand=1))
    recipes = (
        Recipe("set", (Input("post", 1), Input("ring", 1))),
        Recipe("post", (Input("tube", 1),)),
    )
    nights = (Night("2030-12-01", 0, {"post": 2}), Night("2030-12-03", 0, {"set": 2}))
    first, second = answer(NeedsProblem(items, recipes, (Variant("set", 2),), nights))
    assert (first.item, first.on_night) == ("tube", "2030-12-01")
    assert (second.item, second.on_night) == ("ring", "2030-12-03")
