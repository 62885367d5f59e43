"""The needs asked for: what is refused, by name."""

from __future__ import annotations

import pytest
from hypothesis import given

from inventory.engines.strict import ProblemRefused
from inventory.measures.lengths import feet
from inventory.needs.engine.problem import (
    Input,
    Item,
    Lot,
    NeedsProblem,
    Night,
    Recipe,
    Variant,
)
from tests.inventory.needs.engine.some import problems, sets_of_three, tube


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Item(" "), "key must not be empty"),
        (lambda: Item("wire", on_hand=-1), "on_hand of wire"),
        (lambda: Item("wire", pack=0), "pack of wire must be 1 or more"),
        (lambda: Item("wire", last_order="soon"), "last_order of wire must be a date"),
        (lambda: Item("wire", sticks=(Lot(5, 1),)), "wire has sticks but no stick_length"),
        (lambda: tube(on_hand=4), "tube is cut from sticks"),
        (lambda: tube(stick_length=0), "stick_length of tube"),
        (lambda: tube(trim=1), "trim of tube must be 0 or at least the kerf"),
        (lambda: Lot(0, 1), "length must be more than 0"),
        (lambda: Lot(5, -1), "count must not be less than 0"),
        (lambda: Input("wire", 0), "quantity of wire must be 1 or more"),
        (lambda: Input("tube", 1, 0), "length of tube must be more than 0"),
        (lambda: Recipe("a", ()), "the recipe of a takes nothing"),
        (lambda: Recipe("a", (Input("b", 1),), makes=0), "makes of a must be 1 or more"),
        (lambda: Recipe("a", (Input("b", 1),), scrap_per_mille=1000), "scrap_per_mille of a"),
        (lambda: Recipe("a", (Input("b", 1), Input("b", 2))), "recipe of a names an input twice"),
        (lambda: Variant("a", -1), "wanted of a"),
        (lambda: Night("2030-13-01"), "date must be a date such as"),
        (lambda: Night("2030-12-01", 2, {"a": 1}), "has sets and pieces"),
        (lambda: Night("2030-12-01", 0, {"a": -1}), "pieces of a on 2030-12-01"),
    ],
)
def test_nonsense_is_refused_by_name(make, words):
    with pytest.raises(ValueError, match=words):
        make()


NIGHT = Night("2030-12-01", 2)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"items": (*sets_of_three().items, Item("wire"))}, "items: wire stands twice"),
        ({"recipes": (Recipe("nest", (Input("wire", 1),)),)}, "recipes: nest is no item"),
        ({"recipes": (Recipe("set", (Input("hay", 1),)),)}, "names hay, which is no item"),
        ({"recipes": (Recipe("set", (Input("tube", 1),)),)}, "must say how long its tube is"),
        ({"recipes": (Recipe("set", (Input("wire", 1, 5),)),)}, "wire in set has a length"),
        ({"recipes": (Recipe("set", (Input("tube", 1, feet(21)),)),)}, "longer piece than a stick"),
        ({"recipes": (Recipe("tube", (Input("wire", 1),)),)}, "tube is a material cut"),
        ({"recipes": (*sets_of_three().recipes,) * 2}, "recipes: head stands twice"),
        ({"variants": (Variant("nest", 1),)}, "variants: nest is no item"),
        ({"nights": (Night("2030-12-01", 0, {"nest": 1}),)}, "nights: nest is no item"),
        ({"nights": (NIGHT, NIGHT)}, "nights must be in order of date"),
        ({"nights": (NIGHT, Night("2030-12-02", 0, {"set": 1}))}, "nights: give sets for all"),
        ({"today": "yesterday"}, "today must be a date"),
    ],
)
def test_needs_that_make_no_sense_are_refused(changes, words):
    with pytest.raises(ValueError, match=words):
        sets_of_three(**changes)


def test_an_item_that_is_needed_to_make_itself_is_refused():
    loop = (
        Recipe("set", (Input("head", 1),)),
        Recipe("head", (Input("post", 1),)),
        Recipe("post", (Input("set", 1),)),
    )
    with pytest.raises(ValueError, match="is needed to make itself"):
        sets_of_three(recipes=loop)


def test_a_file_is_refused_by_key_and_reason():
    raw = sets_of_three().to_json()
    raw["items"][0]["on_hand"] = "three"
    with pytest.raises(ProblemRefused, match=r"problem\.items\[0\]\.on_hand: must be a whole"):
        NeedsProblem.from_json(raw)


@given(problems())
def test_json_and_back_is_the_same_problem(problem):
    assert NeedsProblem.from_json(problem.to_json()) == problem
