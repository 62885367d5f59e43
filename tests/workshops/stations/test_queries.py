"""What the pages of stations and build sheets read."""

from __future__ import annotations

from typing import Any

from inventory.measures.lengths import inches
from inventory.places.models import Shop
from tests.factories import make_operation, make_recipe, make_sheet, make_station, make_tool
from tests.workshops.stations.geometry.sheets import BOLTED, CYLINDER, STAND
from tests.workshops.stations.sheet_rows import keep_sheet
from workshops.club.queries import rules_of
from workshops.stations import queries
from workshops.stations.models import BuildSheet


def test_stations_stand_in_their_order_with_what_is_made_there(shop: Shop, other_shop: Shop):
    second, first = make_station(shop, sequence=2), make_station(shop, sequence=1)
    make_operation(second)
    make_operation(second, is_in_use=False)
    make_station(other_shop)
    found = list(queries.stations_of(shop))
    assert [(row.pk, row.operation_count) for row in found] == [(first.pk, 0), (second.pk, 1)]


def test_broken_tools_come_first(shop: Shop):
    make_tool(shop, name="Anvil")
    broken = make_tool(shop, name="Vise", out_of_service=1, fault="cracked")
    assert queries.tools_of(shop)[0].tool == broken


def test_what_is_made_at_a_station_takes_two_queries(shop: Shop, django_assert_num_queries: Any):
    station = make_station(shop)
    for _ in range(4):
        make_operation(station)
    with django_assert_num_queries(2):
        for operation in queries.operations_at(station):
            list(operation.recipe.lines.all())


def test_a_sheet_page_works_out_heights_roll_and_drawings(shop: Shop):
    page = queries.sheet_page(keep_sheet(shop, CYLINDER))
    assert [way.height_um for way in page.heights] == [inches(8), inches(14), inches(20)]
    assert [drawing.title for drawing in page.drawings] == [
        "The whole set", "The head", "The roll, from its end",
        "Post", "Stem", "Bar", "Cradle rod", "Wire piece",
    ]  # fmt: skip
    assert page.roll is not None
    assert page.roll.shape.inside_um == 282_977  # 35 in around, over pi
    assert [line.part.name for line in page.lines if line.row is None] == []


def test_a_sheet_page_lists_what_is_done_for_its_parts_and_its_set(shop: Shop):
    row = keep_sheet(shop, BOLTED)
    stem, station = row.parts.get(item__slug="stem"), make_station(shop)
    drill = make_operation(station, part=stem)
    tag = make_operation(station, make_recipe(row.set_item))
    make_operation(station)
    assert {each.pk for each in queries.sheet_page(row).operations} == {drill.pk, tag.pk}


def test_an_empty_draft_has_a_page(shop: Shop):
    page = queries.sheet_page(make_sheet(shop))
    assert (page.drawings, page.heights, page.roll, page.lines) == ([], (), None, [])


def test_a_sheet_page_shows_all_revisions(shop: Shop):
    row = keep_sheet(shop, CYLINDER)
    older = make_sheet(shop, drawing_number=row.drawing_number, revision="B")
    assert queries.sheet_page(row).revisions == [row, older]


def test_the_list_counts_the_warnings_of_each_sheet_in_few_queries(
    shop: Shop, django_assert_num_queries: Any
):
    keep_sheet(shop, CYLINDER)
    rules = rules_of(shop)
    for sheet in (STAND, BOLTED):
        keep_sheet(shop, sheet)
        with django_assert_num_queries(2):
            warned = queries.warned_sheets(queries.sheets_of(shop), rules)
    assert len(warned) == 3


def test_looking_at_a_draft_keeps_nothing(shop: Shop):
    row = keep_sheet(shop, CYLINDER)
    looked = queries.look_at_sheet(row, roll=None)
    assert "The roll, from its end" not in [drawing.title for drawing in looked.drawings]
    assert BuildSheet.objects.get().roll is not None


def test_looking_at_a_part_without_a_section_says_what_to_do(shop: Shop):
    row = keep_sheet(shop, CYLINDER).parts.get(item__slug="bar")
    row.stock.shape = ""
    looked = queries.look_at_row(row)
    assert "say on its page what shape it has" in looked.warnings[0].sentence
    assert looked.drawings == []
