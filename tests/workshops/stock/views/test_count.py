"""Counting a place: blind, compared, explained, then written."""

from __future__ import annotations

import re
from uuid import uuid4

import pytest

from inventory.ledger.models import Entry
from inventory.ledger.queries import balance_of, balances_at, check, pieces_of
from inventory.materials.models import Item
from inventory.measures.lengths import feet
from tests.inventory.winter import Stock


@pytest.fixture
def sheet(stock, keeper, at):
    """Posts a count of the shelf and answers with the page."""
    boxes = {row.item.name: f"n{row.pk}" for row in balances_at(stock.straw.home)}

    def post(**fields: str):
        named = {boxes.get(name, name): value for name, value in fields.items()}
        given = {"key": str(uuid4())} | named
        return keeper.post(at("count_place", stock.straw.home.pk), given)

    return post


def mark_in(answer) -> str:
    return re.search(r'name="seen" value="(\w+)"', answer.content.decode())[1]


def test_every_place_can_be_counted(stock, keeper, at) -> None:
    page = keeper.get(at("count")).content.decode()
    assert all(name in page for name in ("Yard", "Shelf", "Rack"))


def test_the_books_numbers_do_not_lead_the_counter(stock: Stock, keeper, at) -> None:
    page = keeper.get(at("count_place", stock.straw.home.pk)).content.decode()
    assert "Straw" in page
    assert 'value="1.000"' not in page
    assert "booked" not in page


def test_differences_are_shown_before_anything_is_written(stock, sheet) -> None:
    answer = sheet(Straw="4", Rings="3")
    assert "3 more" in answer.content.decode()
    assert balance_of(stock.straw) == 1


def test_a_count_is_written_with_its_reason(stock, sheet) -> None:
    mark = mark_in(sheet(Straw="4", Rings="2"))
    sheet(Straw="4", Rings="2", seen=mark, post="1", reason="two given to the school")
    assert (balance_of(stock.straw), balance_of(stock.rings)) == (4, 2)
    assert Entry.objects.order_by("-pk")[0].reason == "two given to the school"
    assert check(stock.shop) == ()


def test_what_was_not_counted_is_left_alone(stock, sheet) -> None:
    mark = mark_in(sheet(Straw="0"))
    sheet(Straw="0", seen=mark, post="1")
    assert (balance_of(stock.straw), balance_of(stock.rings)) == (0, 3)
    assert Entry.objects.order_by("-pk")[0].reason == "unexplained"


def test_a_count_that_agrees_writes_no_entry(stock, sheet) -> None:
    before = Entry.objects.count()
    answer = sheet(Straw="1")
    assert "agrees with the book" in answer.content.decode()
    sheet(Straw="1", seen=mark_in(answer), post="1")
    assert Entry.objects.count() == before


def test_the_book_moving_meanwhile_is_shown_and_nothing_written(stock, sheet) -> None:
    mark = mark_in(sheet(Straw="4"))
    stock.bring(stock.straw, 2)
    answer = sheet(Straw="4", seen=mark, post="1")
    assert "Nothing was written" in answer.content.decode()
    assert balance_of(stock.straw) == 3


def test_a_wrong_number_loses_nothing_typed(stock, sheet) -> None:
    answer = sheet(Straw="four", Rings="7")
    assert answer.status_code == 422
    assert 'value="four"' in answer.content.decode()
    assert 'value="7"' in answer.content.decode()


def test_what_is_counted_one_by_one_is_counted_whole(stock, sheet) -> None:
    Item.objects.filter(pk=stock.rings.pk).update(unit="each")
    assert "Count whole ones." in sheet(Rings="7.5").content.decode()
    found = {"item1": str(stock.tube.pk), "length1": "5 ft", "found1": "1.5"}
    assert "Count whole ones." in sheet(**found).content.decode()
    assert "Count whole ones." not in sheet(Straw="7.5").content.decode()


def test_nothing_counted_is_said(stock, sheet) -> None:
    assert "Nothing is counted yet" in sheet().content.decode()


def test_things_the_book_does_not_know_here_are_added(stock, sheet) -> None:
    found = {"item1": str(stock.tube.pk), "length1": "5 ft", "found1": "2"}
    mark = mark_in(sheet(**found))
    sheet(**found, seen=mark, post="1")
    assert (feet(5), 2) in pieces_of(stock.tube)


def test_a_found_stick_needs_a_length_and_straw_has_none(stock, sheet) -> None:
    page = sheet(item1=str(stock.tube.pk), found1="2").content.decode()
    assert "Say how long the pieces of Tube are." in page
    page = sheet(item1=str(stock.straw.pk), found1="2", length1="5 ft").content.decode()
    assert "not held by length" in page


def test_a_thing_counted_twice_is_refused(stock, sheet) -> None:
    answer = sheet(Straw="1", item1=str(stock.straw.pk), found1="2")
    assert answer.status_code == 422
    assert "Straw is counted twice." in answer.content.decode()


def test_another_shops_place_is_not_found(stock, keeper, at, other_shop) -> None:
    assert keeper.get(at("count_place", 99_999)).status_code == 404
