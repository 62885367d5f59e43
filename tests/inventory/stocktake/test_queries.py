"""How far a count has come, in few queries; how big a difference is and what may explain it."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
from django.contrib import admin
from django.test import RequestFactory

from inventory.ledger import actions as ledger
from inventory.measures.lengths import feet
from inventory.stocktake import actions
from inventory.stocktake.clues import clues_of, sizes_of, worth_of
from inventory.stocktake.models import CountSheet, Stocktake
from inventory.stocktake.progress import State
from inventory.stocktake.queries import (
    compared,
    line_of,
    places_under_count,
    places_with_stock,
    progress_of,
    sheet_of,
    stocktake_of,
    stocktakes_of,
)
from tests.factories import make_item, make_place
from tests.inventory.stocktake.conftest import NINE, Scene, after, count, post, put

pytestmark = pytest.mark.django_db


def state(sheet: CountSheet) -> State:
    return progress_of(sheet.stocktake)[0].state


def test_a_sheet_goes_through_its_states(scene) -> None:
    sheet = scene.sheet()
    seen = [state(sheet)]
    for step in (
        lambda: put(sheet, 1, {scene.rings: 30}, 5),
        lambda: count(sheet, 1, {scene.rings: 30}, 10),
        lambda: count(sheet, 2, {scene.rings: 29}, 20),
        lambda: count(sheet, 3, {scene.rings: 29}, 30),
        lambda: post(sheet),
    ):
        step()
        seen.append(state(sheet))
    assert seen == [
        State.NOT_BEGUN, State.ONE_COUNTS, State.ONCE, State.LOOK_AGAIN, State.TWICE, State.POSTED,
    ]  # fmt: skip


def test_progress_takes_five_queries_and_no_more_for_twice_the_places(
    scene, django_assert_num_queries
) -> None:
    def fill(stocktake: Stocktake, sheet: CountSheet) -> None:
        for turn in (1, 2):
            count(sheet, turn, {row.item: 1 for row in sheet.lines.select_related("item")}, turn)

    few = scene.open()
    fill(few, few.sheets.get())
    with django_assert_num_queries(5):
        progress_of(few)
    places = [make_place(scene.shop) for _ in range(4)]
    for place in places:
        for _ in range(3):
            make_item(scene.shop, home=place)
    many = scene.open(*places)
    for sheet in many.sheets.all():
        fill(many, sheet)
    with django_assert_num_queries(5):
        assert all(row.is_counted_twice for row in progress_of(many))


def test_a_stocktake_without_lines_is_no_error(scene) -> None:
    (row,) = progress_of(scene.open(make_place(scene.shop)))
    assert (row.lines, row.state, row.owed) == ((), State.NOT_BEGUN, [])


def test_rows_of_another_shop_are_not_found(scene, other_shop) -> None:
    sheet = scene.sheet()
    found = (
        stocktake_of(other_shop, sheet.stocktake_id), sheet_of(other_shop, sheet.pk),
        line_of(other_shop, sheet.lines.first().pk), list(stocktakes_of(other_shop)),
    )  # fmt: skip
    assert found == (None, None, None, [])


def test_places_under_count_are_those_not_posted_of_open_stocktakes(scene) -> None:
    stocktake = scene.open(scene.shelf, scene.rack)
    sheet = stocktake.sheets.get(place=scene.shelf)
    for turn in (1, 2):
        count(sheet, turn, {scene.rings: 30}, turn)
    post(sheet)
    assert places_under_count(scene.shop) == {scene.rack.pk}
    actions.close_stocktake(stocktake=stocktake, by=None, at=after(90))
    assert places_under_count(scene.shop) == set()


def test_places_with_stock_are_those_where_something_lies(scene) -> None:
    make_place(scene.shop)
    assert {(place.name, place.things) for place in places_with_stock(scene.shop)} == {
        ("Shelf", 2), ("Tube rack", 1),
    }  # fmt: skip


@pytest.fixture
def off(scene: Scene) -> CountSheet:
    """Twenty-two boxes where the book had twenty-six of thirty: four missing."""
    scene.take(scene.rings, 4, -30)
    sheet = scene.sheet()
    for turn in (1, 2):
        count(sheet, turn, {scene.rings: 22, scene.straw: 8}, 10 * turn)
    return sheet


def only(sheet: CountSheet, item):
    return next(row for row in compared(sheet) if row.line.item == item)


def test_a_difference_is_set_beside_what_moved(scene, off, django_assert_num_queries) -> None:
    rows = compared(off)
    with django_assert_num_queries(1):
        sizes = sizes_of(rows, scene.shelf)
    (size,) = sizes.values()
    assert (size.off, size.moved, size.percent, size.worth) == (-4, 34, Decimal("11.8"), None)


def test_what_moved_is_counted_from_the_last_count_on(scene, off) -> None:
    row = ledger.Counted(scene.rings, 0, "good", Decimal(25))
    ledger.count(shop=scene.shop, place=scene.shelf, counted=[row], by=None, at=after(-20))
    scene.take(scene.rings, 1, -10)
    (size,) = sizes_of(compared(off), scene.shelf).values()
    assert (size.off, size.moved) == (-2, 1)


def test_what_moved_more_than_a_year_ago_is_left_out(scene, off) -> None:
    ledger.goods_in(
        shop=scene.shop, item=scene.rings, quantity=Decimal(9), place=scene.shelf,
        source="A farm", is_donated=True, by=None, at=NINE - timedelta(days=500),
    )  # fmt: skip
    (size,) = sizes_of(compared(off), scene.shelf).values()
    assert size.moved == 34


def test_worth_is_by_length_for_metal_and_unknown_without_a_price(scene) -> None:
    tube = make_item(scene.shop, kind="metal", unit_price=Decimal(30))
    assert worth_of(tube, Decimal(2), feet(5)) == Decimal("15.00")
    assert worth_of(scene.rings, Decimal(2)) is None


def test_a_movement_of_just_as_many_is_pointed_out(scene, off) -> None:
    clues = clues_of(only(off, scene.rings), scene.shelf, ())
    assert [(clue.line.quantity, clue.says) for clue in clues.fitting] == [
        (-4, "as much: did it happen twice and was written once?")
    ]
    assert dict(clues.sums) == {"goods in": 30, "scrap": -4}


def test_clues_begin_after_the_last_count(scene, off) -> None:
    row = ledger.Counted(scene.rings, 0, "good", Decimal(25))
    ledger.count(shop=scene.shop, place=scene.shelf, counted=[row], by=None, at=after(-20))
    clues = clues_of(only(off, scene.rings), scene.shelf, ())
    assert (clues.since, clues.moved) == (after(-20), ())


def test_another_line_off_the_other_way_is_pointed_out(scene) -> None:
    sheet = scene.sheet()
    for turn in (1, 2):
        count(sheet, turn, {scene.rings: 28, scene.straw: 10}, 10 * turn)
    rows = compared(sheet)
    clues = clues_of(only(sheet, scene.rings), scene.shelf, rows)
    assert [row.line.item for row in clues.other_way] == [scene.straw]


def test_a_posted_difference_is_not_its_own_clue(scene, off) -> None:
    post(off)
    clues = clues_of(only(off, scene.rings), scene.shelf, ())
    assert len(clues.moved) == 2


def test_what_was_posted_is_read_as_it_was_written(scene, off) -> None:
    post(off)
    scene.take(scene.rings, 3, 5)
    row = only(off, scene.rings)
    assert (row.stands.booked, row.off) == (26, -4)


def test_the_admin_reads_stocktakes_and_changes_none(db) -> None:
    request = RequestFactory().get("/admin/")
    for model in (Stocktake, CountSheet):
        page = admin.site._registry[model]
        assert not page.has_add_permission(request)
        assert not page.has_change_permission(request)
        assert not page.has_delete_permission(request)
