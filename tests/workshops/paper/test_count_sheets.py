"""Count sheets on paper: a place a sheet, first and second apart, never with a number to copy."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from inventory.measures.lengths import feet
from inventory.places.models import Shop
from inventory.stocktake import actions
from inventory.stocktake.models import Stocktake
from tests.factories import make_night, make_place, make_room
from tests.inventory.winter import Stock, make_stock
from tests.workshops.paper.reading import pages_of, paper_of, sizes_in, squeezed
from workshops.paper.actions import make_count_sheets
from workshops.paper.count_sheets import TALL_MM, print_count_sheets
from workshops.paper.models import Paper
from workshops.paper.refusals import PaperRefused

pytestmark = pytest.mark.django_db


@pytest.fixture
def stock(shop: Shop, clock) -> Stock:
    """Two lengths of tube, a bale, rings; tonight is not tallied yet."""
    stock = make_stock(shop)
    stock.bring(stock.tube, 37, feet(20))
    stock.bring(stock.tube, 2, feet(5))
    stock.bring(stock.straw, 41)
    make_night(shop)
    return stock


@pytest.fixture
def stocktake(stock: Stock) -> Stocktake:
    """The yard and the shelf in a room."""
    shelf = stock.straw.home
    shelf.room = make_room(stock.shop, name="Straw room")
    shelf.save()
    return actions.open_stocktake(
        shop=stock.shop, name="Midwinter", places=[stock.tube.home, shelf], by=None,
        at=timezone.now(), note="the trailer is empty",
    )  # fmt: skip


def printed(stocktake: Stocktake) -> list[str]:
    return pages_of(print_count_sheets(stocktake, timezone.now()).data)


def test_all_first_counts_come_before_all_second_ones(stocktake) -> None:
    heads = [
        ("Shelf" in page or "Strawroom" in page, "SECONDCOUNT,BLIND" in page)
        for page in printed(stocktake)
    ]
    assert heads == [(True, False), (False, False), (True, True), (False, True)]


def test_a_sheet_says_place_room_time_page_cut_off_and_asks_who(stocktake) -> None:
    page = printed(stocktake)[0]
    for said in (
        "Shelf", "Straw room", "Midwinter", "printed 14 Jan 2026 18:00", "page 1 of 1",
        "the trailer is empty", "Counted by", "Begun at", "0 = looked, none here.",
        "The night of Wednesday 14 January has no tally.", "Found, and not listed",
    ):  # fmt: skip
        assert squeezed(said) in page


def test_lengths_stand_under_their_item_and_no_figure_of_the_book_is_there(stocktake) -> None:
    page = printed(stocktake)[1]
    assert squeezed("240 in") in page
    assert squeezed("60 in") in page
    assert "37" not in page
    assert "41" not in printed(stocktake)[0]


def test_the_second_sheet_does_not_list_what_the_first_counter_found(stocktake, stock) -> None:
    sheet = stocktake.sheets.get(place=stock.straw.home)
    found = actions.Counted(stock.head, 0, "good", 3)
    actions.put_count(
        sheet=sheet, turn=1, counter=actions.Counter("Anders"), counts={}, finds=[found],
        by=None, at=timezone.now(),
    )  # fmt: skip
    first, _, second, _ = printed(stocktake)
    assert ("Head" in first, "Head" in second) == (True, False)


def test_rows_are_tall_enough_for_a_glove_and_letters_large_enough(stocktake) -> None:
    assert TALL_MM >= 9
    assert min(sizes_in(print_count_sheets(stocktake, timezone.now()).data)) >= 8.99


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_it_is_printed_on_the_paper_of_the_shop(stocktake, paper, size) -> None:
    stocktake.shop.paper_size = paper
    assert paper_of(print_count_sheets(stocktake, timezone.now()).data) == {size}


def test_a_long_sheet_goes_on_with_its_heads_and_numbers(stock) -> None:
    for n in range(40):
        stock.bring(stock.tube, 1, feet(2) + n * 10_000)
    made = actions.open_stocktake(
        shop=stock.shop, name="Long", places=[stock.tube.home], by=None, at=timezone.now()
    )
    first, second = printed(made)[:2]
    assert "page1of3" in first
    assert "page2of3" in second
    assert "howmany" in second


def test_an_empty_place_has_a_sheet_with_room_for_what_is_found(stock) -> None:
    made = actions.open_stocktake(
        shop=stock.shop, name="Loft", places=[make_place(stock.shop)], by=None, at=timezone.now()
    )
    assert "Nothingshouldliehere." in printed(made)[0]


def test_the_paper_is_kept_and_refused_when_nothing_is_left_to_count(stocktake) -> None:
    paper = make_count_sheets(stocktake=stocktake, at=timezone.now())
    assert (paper.kind, paper.pages) == (Paper.Kind.COUNT_SHEETS, 4)
    actions.close_stocktake(stocktake=stocktake, by=None, at=timezone.now() + timedelta(hours=1))
    stocktake.refresh_from_db()
    with pytest.raises(PaperRefused, match="left to count"):
        make_count_sheets(stocktake=stocktake, at=timezone.now())
