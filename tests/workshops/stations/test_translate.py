"""From rows to the values that geometry works on, and the club's limits."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from inventory.materials.models import Item
from inventory.measures.lengths import inches, millimetres
from inventory.places.models import Shop
from tests.factories import make_item, make_part, make_sheet
from tests.workshops.stations.geometry.sheets import BOLTED, CYLINDER, STAND
from tests.workshops.stations.sheet_rows import keep_sheet
from workshops.club.actions import set_rule
from workshops.club.queries import rules_of
from workshops.stations.geometry.limits import SheetLimits
from workshops.stations.geometry.sheet import Sheet
from workshops.stations.models import BuildSheet, SheetPart
from workshops.stations.translate import (
    SheetRefused,
    limits_of,
    read_mesh,
    section_of,
    sheet_of,
    warnings_of,
)


def decide(shop: Shop, key: str, value: int) -> None:
    """The club sets a limit."""
    set_rule(
        shop=shop, key=key, value=value, decided_by="the board", decided_on=date(2025, 9, 1),
        source="meeting", by=None,
    )  # fmt: skip


@pytest.mark.parametrize("sheet", [CYLINDER, STAND, BOLTED], ids=lambda sheet: sheet.name)
def test_a_sheet_kept_as_rows_comes_back_as_it_was(shop: Shop, sheet: Sheet):
    assert sheet_of(keep_sheet(shop, sheet)) == sheet


def test_sheets_share_the_rows_of_a_part(shop: Shop):
    one = keep_sheet(shop, CYLINDER)
    two = keep_sheet(shop, STAND)
    shared = set(one.parts.all()) & set(two.parts.all())
    assert {part.name for part in shared} == {"Stem", "Bar", "Cradle rod", "Wire piece"}


def test_reading_a_sheet_takes_one_query_for_its_parts(
    shop: Shop, django_assert_num_queries: object
):
    row = keep_sheet(shop, STAND)
    with django_assert_num_queries(1):
        sheet_of(BuildSheet(pk=row.pk, shop=shop, name="n", drawing_number="d"))


@pytest.mark.parametrize(
    ("text", "mesh"),
    [
        ("2 x 4 in", (inches(2), inches(4))),
        ("1 x 1/2", (inches(1), inches("1/2"))),
        ("50 × 25 mm", (millimetres(50), millimetres(25))),
    ],
)
def test_a_mesh_is_read_as_people_write_it(text: str, mesh: tuple[int, int]):
    assert read_mesh(text) == mesh


@pytest.mark.parametrize("text", ["", "2 in", "two x four", "0 x 4 in"])
def test_what_is_no_mesh_is_refused_with_an_example(text: str):
    with pytest.raises(ValueError, match="write it like 2 x 4 in"):
        read_mesh(text)


def test_stock_without_a_shape_is_refused_by_name(shop: Shop):
    with pytest.raises(ValueError, match="Hay has no section"):
        section_of(make_item(shop, name="Hay", kind=Item.Kind.FILL))


def test_a_sheet_that_cannot_be_drawn_names_the_value(shop: Shop):
    row = keep_sheet(shop, CYLINDER)
    row.roll["ring_um"] = row.roll["piece_length_um"]
    with pytest.raises(SheetRefused) as refused:
        sheet_of(row)
    assert refused.value.field == "roll"
    assert "first turn must be shorter" in refused.value.reason


def test_a_sheet_that_cannot_be_drawn_is_one_warning(shop: Shop):
    sheet = make_sheet(shop)
    stock = make_item(shop, kind=Item.Kind.METAL, shape="")
    SheetPart.objects.create(sheet=sheet, part=make_part(shop, stock=stock))
    warnings = warnings_of(sheet, rules_of(shop))
    assert len(warnings) == 1
    assert "Nothing can be drawn yet" in warnings[0].sentence


def test_a_frozen_drawing_is_shown_whatever_the_rows_say_now(shop: Shop):
    row = keep_sheet(shop, CYLINDER, drawn=CYLINDER.to_json())
    row.parts.update(length_um=inches(99))
    assert sheet_of(row) == CYLINDER


def test_the_clubs_limits_reach_the_geometry(shop: Shop):
    assert limits_of(rules_of(shop)) == SheetLimits()
    decide(shop, "ring_inside_max_um", inches(11))
    decide(shop, "wall_tolerance_percent", 12)
    limits = limits_of(rules_of(shop))
    assert (limits.max_ring_diameter_um, limits.wall_tolerance_percent) == (inches(11), 12)


def test_a_ring_over_the_clubs_limit_is_warned_of_and_one_under_it_is_not(shop: Shop):
    row = keep_sheet(shop, CYLINDER)
    fields = [warning.field for warning in warnings_of(row, rules_of(shop))]
    decide(shop, "ring_inside_max_um", inches(11))
    now = [warning.field for warning in warnings_of(row, rules_of(shop))]
    assert "roll.ring_um" not in fields
    assert "roll.ring_um" in now


def test_the_clubs_own_clearance_counts_where_it_asks_for_more(shop: Shop):
    loose = replace(CYLINDER, fit=replace(CYLINDER.fit, clearance_um=0))
    row = keep_sheet(shop, loose)
    before = [warning.field for warning in warnings_of(row, rules_of(shop))]
    decide(shop, "stem_clearance_min_um", inches(1))
    after = [warning.field for warning in warnings_of(row, rules_of(shop))]
    assert "fit.clearance_um" not in before
    assert "fit.clearance_um" in after
