"""The explosion, by hand and by another arithmetic."""

from __future__ import annotations

from hypothesis import given

from inventory.measures.lengths import inches
from inventory.needs.engine.explode import explode, to_start, wanted_of
from inventory.needs.engine.problem import Input, Item, NeedsProblem, Recipe, Variant
from tests.inventory.needs.engine.some import problems, sets_of_three


def test_nothing_wanted_takes_nothing():
    found = explode(sets_of_three(0), {"set": 0}, with_scrap=True)
    assert set(found.required.values()) == {0}
    assert not any(found.pieces.values())


def test_racks_are_used_up_before_steel_is_cut():
    """30 wanted, 3 finished: 27 heads, 6 on the rack, 21 good ones from 23 started (5 %)."""
    found = explode(sets_of_three(), {"set": 30}, with_scrap=True)
    assert (found.required["head"], found.net["head"], found.started["head"]) == (27, 21, 23)
    assert found.pieces_of("tube") == {inches(34): 23, inches(16): 23, inches(90): 25}


def test_without_stock_everything_is_made():
    found = explode(sets_of_three(), {"set": 30}, with_scrap=False, uses_stock=False)
    assert found.pieces_of("tube") == {inches(34): 30, inches(16): 30, inches(90): 30}


def test_scrap_starts_as_many_more_as_are_expected_to_fail():
    """To get 95 good at 5 per cent scrap start 100; for 96 start 102, since 101 give 95.95."""
    recipe = Recipe("head", (Input("wire", 1),), scrap_per_mille=50)
    assert to_start(recipe, 95, with_scrap=True) == 100
    assert to_start(recipe, 96, with_scrap=True) == 102
    assert to_start(recipe, 96, with_scrap=False) == 96


def test_a_recipe_that_makes_several_is_done_in_whole_goes():
    """Four rods a go: nine rods are three goes, twelve rods, three bars."""
    problem = NeedsProblem(
        (Item("rod"), Item("bar")), (Recipe("rod", (Input("bar", 1),), makes=4),), ()
    )
    found = explode(problem, {"rod": 9}, with_scrap=True)
    assert (found.net["rod"], found.started["rod"], found.required["bar"]) == (9, 12, 3)


def test_a_shared_part_is_netted_once_at_its_lowest_level():
    """D goes into A and into B below it; its 5 on hand are not used twice."""
    problem = NeedsProblem(
        (Item("A"), Item("B"), Item("D", on_hand=5)),
        (Recipe("A", (Input("B", 1), Input("D", 1))), Recipe("B", (Input("D", 2),))),
        (Variant("A", 4),),
    )
    found = explode(problem, wanted_of(problem), with_scrap=True)
    assert (found.required["D"], found.net["D"]) == (12, 7)


@given(problems())
def test_stock_never_raises_what_is_needed(problem):
    wanted = wanted_of(problem)
    gross = explode(problem, wanted, with_scrap=True, uses_stock=False)
    net = explode(problem, wanted, with_scrap=True)
    assert all(net.required[key] <= gross.required[key] for key in gross.required)
    assert all(net.pieces[key] <= gross.pieces[key] for key in gross.pieces)


@given(problems())
def test_more_sets_never_take_less(problem):
    fewer = explode(problem, {"v": 3, "w": 4}, with_scrap=True)
    more = explode(problem, {"v": 4, "w": 4}, with_scrap=True)
    assert all(fewer.required[key] <= more.required[key] for key in fewer.required)
