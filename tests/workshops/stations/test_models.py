"""What the database itself refuses of stations, tools and build sheets."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.db import IntegrityError

from inventory.places.models import Shop
from tests.factories import make_operation, make_part, make_sheet, make_station, make_tool
from workshops.stations.models import BuildSheet, Level, SheetPart

Status = BuildSheet.Status


@pytest.mark.parametrize(
    "fields", [{"crew_min": 0}, {"crew_min": 3, "crew_max": 2}], ids=["none", "in order"]
)
def test_a_crew_is_in_order(shop: Shop, fields: dict[str, Any]):
    with pytest.raises(IntegrityError):
        make_station(shop, **fields)


@pytest.mark.parametrize(
    "fields", [{"count": 1, "out_of_service": 2, "fault": "x"}, {"out_of_service": 1}]
)
def test_a_broken_tool_is_owned_and_its_fault_told(shop: Shop, fields: dict[str, Any]):
    with pytest.raises(IntegrityError):
        make_tool(shop, **fields)


def test_a_part_has_a_length(shop: Shop):
    with pytest.raises(IntegrityError):
        make_part(shop, length_um=0)


def test_one_revision_of_a_drawing_is_in_force(shop: Shop):
    fields = {"drawing_number": "N-1", "status": Status.IN_FORCE}
    make_sheet(shop, revision="A", in_force_from=date(2026, 1, 1), **fields)
    with pytest.raises(IntegrityError):
        make_sheet(shop, revision="B", in_force_from=date(2026, 1, 2), **fields)


def test_a_sheet_in_force_has_a_date(shop: Shop):
    with pytest.raises(IntegrityError):
        make_sheet(shop, status=Status.IN_FORCE)


def test_a_part_stands_once_on_a_sheet(shop: Shop):
    sheet, part = make_sheet(shop), make_part(shop)
    SheetPart.objects.create(sheet=sheet, part=part)
    with pytest.raises(IntegrityError):
        SheetPart.objects.create(sheet=sheet, part=part)


def test_an_operation_takes_time(shop: Shop):
    with pytest.raises(IntegrityError):
        make_operation(make_station(shop), minutes_per_piece=0)


def test_each_level_goes_further_than_the_one_before():
    assert [level.label for level in sorted(Level)] == [
        "shown how", "with a lead", "alone", "may lead", "may sign others",
    ]  # fmt: skip
