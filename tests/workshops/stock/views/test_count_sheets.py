"""A place counted on a tablet: kept as it is typed, blind, compared, posted, refused in words."""

from __future__ import annotations

import pytest
from django.utils import timezone

from inventory.measures.lengths import feet
from inventory.stocktake import actions
from inventory.stocktake.models import CountSheet, Look
from tests.inventory.winter import Stock


@pytest.fixture
def sheet(stock: Stock) -> CountSheet:
    """The shelf, with a bale and three boxes by the book."""
    places = [stock.straw.home, stock.tube.home]
    made = actions.open_stocktake(
        shop=stock.shop, name="Midwinter", places=places, by=None, at=timezone.now()
    )
    return made.sheets.get(place=stock.straw.home)


@pytest.fixture
def lead(duty_lead, client_of):
    return client_of(duty_lead)


@pytest.fixture
def put(sheet, keeper, at):
    """Posts counts of a turn by item name, and answers with the page."""

    def post(turn: str = "first", browser=keeper, *, htmx: bool = False, **given):
        rows = {line.item.name: line.pk for line in sheet.lines.select_related("item")}
        named = {
            name[0].lower() + str(rows[name[1:]]) if name[1:] in rows else name: value
            for name, value in given.items()
        }
        page = "third_look" if turn == "third" else f"{turn}_count"
        headers = {"HX-Request": "true"} if htmx else {}
        usual = {"counter": "Signe" if browser is keeper else "Dov"}
        return browser.post(at(page, sheet.pk), usual | named, headers=headers)

    return post


def seen(sheet: CountSheet, stock: Stock) -> tuple:
    straw, rings = (sheet.lines.get(item=item) for item in (stock.straw, stock.rings))
    return straw.first, rings.first


def test_a_changed_box_is_kept_at_once(sheet, stock, put) -> None:
    answer = put(htmx=True, nStraw="4").content.decode()
    assert "1 of 2 looked at" in answer
    assert "<h1" not in answer
    assert seen(sheet, stock) == (4, None)


def test_none_here_is_nought_and_empty_is_not_looked_at(sheet, stock, put) -> None:
    put(zStraw="on")
    assert seen(sheet, stock) == (0, None)


def test_a_number_and_none_here_at_once_are_asked_about(sheet, stock, put) -> None:
    answer = put(nStraw="4", zStraw="on")
    assert answer.status_code == 422
    assert "which is it?" in answer.content.decode()
    assert seen(sheet, stock) == (None, None)


def test_what_was_kept_is_in_the_boxes_when_one_comes_back(sheet, put, keeper, at) -> None:
    put(nStraw="4", zRings="on")
    shown = keeper.get(at("first_count", sheet.pk)).content.decode()
    assert 'value="4"' in shown
    assert "checked" in shown


def test_a_wrong_number_is_told_in_the_piece_and_in_the_page(put) -> None:
    assert "Not kept" in put(htmx=True, nStraw="four").content.decode()
    assert 'value="four"' in put(nStraw="four").content.decode()


def test_a_find_is_kept_by_the_button_and_not_by_a_change(sheet, stock, put) -> None:
    found = {"item1": str(stock.tube.pk), "length1": "5 ft", "found1": "2"}
    put(htmx=True, nStraw="1", **found)
    assert not sheet.lines.filter(item=stock.tube).exists()
    put(nStraw="1", **found)
    assert sheet.lines.get(item=stock.tube, length_um=feet(5)).first == 2


def test_a_find_without_its_length_is_asked_about(stock, put) -> None:
    answer = put(item1=str(stock.tube.pk), found1="2")
    assert "Say how long the pieces of Tube are." in answer.content.decode()


def test_paper_is_typed_in_with_its_own_time(sheet, stock, put) -> None:
    put(nStraw="1", counted_at="2026-01-14T15:30", done="1")
    line = sheet.lines.get(item=stock.straw)
    assert (line.first_at.isoformat(), Look.objects.get().is_from_paper) == (
        "2026-01-14T21:30:00+00:00", True,
    )  # fmt: skip


def test_paper_of_tomorrow_is_refused(put) -> None:
    answer = put(nStraw="1", counted_at="2026-01-15T15:30")
    assert "That is still to come." in answer.content.decode()


def test_the_same_person_is_refused_on_the_second_page_in_words(put, lead) -> None:
    put(nStraw="1", done="1")
    answer = put("second", lead, nStraw="1", counter="signe")
    assert answer.status_code == 422
    assert "Signe did the first count" in answer.content.decode()


def test_a_count_that_is_done_leads_back_to_the_place(sheet, put, keeper, at) -> None:
    put(nStraw="1", done="1")
    assert keeper.get(at("first_count", sheet.pk)).url == at("count_sheet", sheet.pk)


def test_the_duty_lead_counts_and_does_not_open_the_book(sheet, put, lead, at) -> None:
    put(nStraw="1", nRings="3", done="1")
    put("second", lead, nStraw="1", nRings="3", done="1")
    assert lead.post(at("open_book", sheet.pk)).status_code == 403
    shown = lead.get(at("count_sheet", sheet.pk)).content.decode()
    assert "The coordinator or the storekeeper opens the book next." in shown


def test_the_reason_for_counting_alone_is_shown(sheet, put, keeper, lead, at) -> None:
    put(nStraw="1", done="1")
    keeper.post(at("count_alone", sheet.pk), {"reason": "snowed in"})
    assert put("second", nStraw="1", done="1").status_code == 302
    assert "snowed in" in lead.get(at("count_sheet", sheet.pk)).content.decode()


@pytest.fixture
def opened(sheet, put, keeper, lead, at) -> CountSheet:
    """Both counted five bales and three boxes; the book is open."""
    put(nStraw="5", nRings="3", done="1")
    put("second", lead, nStraw="5", nRings="3", done="1")
    keeper.post(at("open_book", sheet.pk))
    return sheet


def test_a_difference_shows_how_big_it_is_and_what_it_is_worth(opened, keeper, at) -> None:
    shown = keeper.get(at("count_sheet", opened.pk)).content.decode()
    assert "+4" in shown
    assert "18.00 USD" in shown
    assert "400.0 % of the 1 that moved" in shown


def test_something_else_without_words_is_refused_and_nothing_posted(opened, keeper, at) -> None:
    line = opened.lines.get(item__name="Straw")
    answer = keeper.post(at("count_sheet", opened.pk), {f"r{line.pk}": "other", "post": "1"})
    assert answer.status_code == 422
    assert "say in words" in answer.content.decode()


def test_reasons_are_kept_without_posting(opened, keeper, at) -> None:
    line = opened.lines.get(item__name="Straw")
    keeper.post(at("count_sheet", opened.pk), {f"r{line.pk}": "given", f"w{line.pk}": "barn"})
    line.refresh_from_db()
    assert (line.reason, line.words, line.entry) == ("given", "barn", None)


def test_the_clues_stay_shut_with_the_book(sheet, keeper, at) -> None:
    assert keeper.get(at("clues", sheet.lines.first().pk)).status_code == 404


def test_a_doubt_asks_for_a_third_look(opened, keeper, at) -> None:
    line = opened.lines.get(item__name="Straw")
    keeper.post(at("doubt", line.pk))
    shown = keeper.get(at("count_sheet", opened.pk)).content.decode()
    assert "1 line to look at once more before this can be posted." in shown


def test_a_stocktake_is_closed_as_it_is(opened, keeper, at) -> None:
    answer = keeper.post(at("close_stocktake", opened.stocktake_id), follow=True)
    assert "What was not posted left the book as it was." in answer.content.decode()


def test_a_page_asks_as_often_for_ten_lines_as_for_two(
    opened, stock, keeper, at, django_assert_max_num_queries
) -> None:
    for n in range(8):
        opened.lines.create(
            item=stock.tube, length_um=feet(2 + n), first=n, first_at=timezone.now(),
            second=n, second_at=timezone.now(), found_in=1,
        )  # fmt: skip
    for page, pk in (("count_sheet", opened.pk), ("stocktake", opened.stocktake_id)):
        with django_assert_max_num_queries(20):
            keeper.get(at(page, pk))
