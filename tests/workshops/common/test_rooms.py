"""The rooms and their corners lead where they say, and only where a person may go."""

from __future__ import annotations

from workshops.common.rooms import corners

ALL = {"see_stock", "post_stock"}


def test_the_longest_address_says_where_we_stand() -> None:
    found = corners("aspen", ALL, "stock", "/aspen/stock/cut-lists/12/")
    assert [door.room.label for door in found if door.is_here] == ["Cut lists"]


def test_an_item_stands_under_what_is_on_hand() -> None:
    found = corners("aspen", ALL, "stock", "/aspen/stock/items/tube/")
    assert [door.room.label for door in found if door.is_here] == ["On hand"]


def test_a_count_sheet_stands_under_the_count() -> None:
    found = corners("aspen", ALL, "stock", "/aspen/stock/count-sheets/3/second/")
    assert [door.room.label for door in found if door.is_here] == ["Count"]


def test_a_corner_nobody_may_enter_is_not_shown() -> None:
    labels = {door.room.label for door in corners("aspen", {"see_stock"}, "stock", "/")}
    assert "Goods in" not in labels
    assert "On hand" in labels


def test_a_room_of_one_page_has_no_corners() -> None:
    assert corners("aspen", ALL, "club", "/aspen/rules/") == []
