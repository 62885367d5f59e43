"""A part of the name is enough where only one item has it."""

from __future__ import annotations

import pytest

from inventory.materials.models import Item
from workshops.stock.finding import Finder, NotFound


def finder(*names: str) -> Finder:
    return Finder([Item(pk=n, name=name, slug=f"item-{n}") for n, name in enumerate(names, 1)])


@pytest.mark.parametrize("typed", ["Stem tube", "  STEM   tube ", "stem", "stem t", "item-2"])
def test_an_item_is_found_by_its_name_its_address_or_a_part_only_it_has(typed: str) -> None:
    assert finder("Post tube", "Stem tube").find(typed).name == "Stem tube"


def test_a_whole_name_is_found_though_another_begins_with_it() -> None:
    assert finder("Pin", "Pin clip").find("pin").name == "Pin"


def test_a_name_that_begins_so_is_meant_before_one_that_has_the_word_somewhere() -> None:
    assert finder("Short post", "Post tube").find("post").name == "Post tube"


def test_what_nothing_is_called_is_refused() -> None:
    with pytest.raises(NotFound, match="Nothing here is called “rope”"):
        finder("Pin").find("rope")


def test_several_are_offered_and_no_more_than_four() -> None:
    with pytest.raises(NotFound, match=r"Rod 1, Rod 2, Rod 3, Rod 4 and more\."):
        finder(*(f"Rod {n}" for n in range(1, 7))).find("rod")


def test_two_of_one_name_are_told_apart_by_their_addresses() -> None:
    both = finder("Pin", "Pin")
    assert list(both.names.values()) == ["Pin (item-1)", "Pin (item-2)"]
    assert both.find("Pin (item-2)").pk == 2
    with pytest.raises(NotFound, match="Several"):
        both.find("Pin")
