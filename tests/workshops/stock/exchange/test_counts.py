"""The list of what lies where: its differences are counts, or it is the opening stock."""

from __future__ import annotations

from decimal import Decimal

import pytest

from inventory.ledger.models import Entry
from inventory.ledger.queries import balance_of, check, pieces_of
from inventory.measures.lengths import feet
from tests.workshops.stock.exchange.conftest import only, told
from workshops.stock.exchange.fates import Change

HEAD = ["Place", "Item", "Length", "Condition", "On hand"]


def test_each_row_shows_book_file_and_difference(look, stock) -> None:
    rows = [HEAD, ["Yard", "Tube", "20 ft", "", 2], ["Shelf", "Rings", "", "good", 5],
            ["shelf", "straw", "", "", "0.5"]]  # fmt: skip
    preview = look("stock", rows)
    assert told(preview) == [(2, "same"), (3, "changed"), (4, "changed")]
    assert preview.plan.fates[1].says == "2 more than the book."
    assert preview.plan.fates[1].changes == (Change("on hand", "3", "5"),)
    assert preview.plan.fates[2].says == "0.5 fewer than the book."


def test_the_differences_are_one_count_a_place(bring, write, stock, shop) -> None:
    rows = [HEAD, ["Yard", "Tube", "20 ft", "", 1], ["Yard", "Tube", "7 ft", "", 2],
            ["Shelf", "Rings", "", "on hold", 1]]  # fmt: skip
    assert write(bring("stock", rows)).is_written
    counts = Entry.objects.filter(kind=Entry.Kind.COUNTED)
    assert [entry.reason for entry in counts] == ["counted, from the list stock.csv"] * 2
    assert pieces_of(stock.tube) == [(feet(20), 1), (feet(7), 2)]
    assert not check(shop)


def test_the_opening_stock_comes_in_as_goods(bring, write, look, stock) -> None:
    rows = [HEAD, ["Shelf", "Rings", "", "", "10"], ["Yard", "Tube", "20 ft", "", "2"]]
    assert told(look("stock", rows, **{"as": "opening"})) == [(2, "new"), (3, "same")]
    assert write(bring("stock", rows, **{"as": "opening"})).is_written
    entry = Entry.objects.order_by("-pk")[0]
    assert (entry.kind, entry.goods_in.source) == (Entry.Kind.GOODS_IN, "opening stock")
    assert balance_of(stock.rings) == Decimal(10)
    assert told(look("stock", rows, **{"as": "opening"})) == [(2, "same"), (3, "same")]


def test_opening_stock_never_takes_away(look, stock) -> None:
    fate = only(look("stock", [HEAD, ["Shelf", "Rings", "", "", 1]], **{"as": "opening"}))
    assert "The book has 3 there already. Bring the list in as a count." in fate.says


@pytest.mark.parametrize(
    ("row", "says"),
    [
        (["Attic", "Rings", "", "", 1], "There is no place “Attic”. Add the place first."),
        (["Shelf", "Bows", "", "", 1], "There is no item “Bows”"),
        (["Yard", "Tube", "", "", 1], "say how long each piece is"),
        (["Shelf", "Rings", "2 ft", "", 1], "leave the length empty"),
        (["Yard", "Tube", "20 ft", "", "1.5"], "counted whole"),
        (["Shelf", "Rings", "", "", "-1"], "cannot be less than nothing"),
        (["Shelf", "Rings", "", "", ""], "On hand: fill it in"),
        (["Shelf", "Rings", "", "lost", 1], "none of: good, on hold"),
        (["Shelf", "", "", "", 1], "Write which item it is"),
        (["Yard", "Tube", "long", "", 1], "8 ft 6 in"),
    ],
)
def test_a_row_that_cannot_be_says_what_to_do(look, stock, row, says) -> None:
    fate = only(look("stock", [HEAD, row]))
    assert fate.fate == "refused"
    assert says in fate.says


def test_one_spot_in_two_rows_is_refused(look, stock) -> None:
    rows = [HEAD, ["Shelf", "Rings", "", "", 1], ["shelf", "rings", "", "good", 2]]
    assert told(look("stock", rows)) == [(2, "changed"), (3, "refused")]


def test_new_places_are_added_when_the_list_may(bring, write, stock) -> None:
    rows = [HEAD, ["Attic", "Rings", "", "", 4], ["Loft", "Rings", "", "", 1]]
    assert write(bring("stock", rows, places=True)).is_written
    assert {row.place.name for row in stock.rings.balances.all()} == {"Shelf", "Attic", "Loft"}
