"""Stations, tools, parts and revisions."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from inventory.materials.models import Item
from inventory.measures.lengths import inches
from inventory.places.models import Shop
from tests.factories import make_item, make_part, make_room, make_sheet, make_station, make_tool
from tests.workshops.stations.geometry.sheets import CYLINDER, STAND
from tests.workshops.stations.sheet_rows import keep_sheet
from workshops.access.models import User
from workshops.stations import actions
from workshops.stations.models import BuildSheet, Part, Station
from workshops.stations.refusals import (
    NotADraft,
    NotDrawable,
    NotOfThisShop,
    StationsRefused,
    ToolRefused,
    UnknownField,
)
from workshops.stations.revisions import next_letter
from workshops.stations.translate import sheet_of

pytestmark = pytest.mark.usefixtures("clock")
DAY = date(2026, 1, 14)
Status = BuildSheet.Status


@pytest.fixture
def draft(shop: Shop) -> BuildSheet:
    """A draft of the single-post cylinder."""
    return keep_sheet(shop, CYLINDER)


def test_a_station_is_added_with_what_it_asks(shop: Shop):
    room, watch = make_room(shop), make_station(shop)
    fields = {"slug": "weld", "name": "Weld", "kind": "weld", "room": room, "is_spark": True}
    station = actions.add_station(shop=shop, fields=fields | {"prerequisites": [watch]})
    assert list(station.prerequisites.all()) == [watch]


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"crew_min": 3, "crew_max": 2}, ""),
        ({"is_spark": True, "is_straw": True}, "is_spark"),
        ({"name": ""}, "name"),
    ],
)
def test_a_station_that_cannot_be_is_refused(shop: Shop, fields: dict[str, Any], field: str):
    station = make_station(shop)
    with pytest.raises(StationsRefused) as refused:
        actions.edit_station(station=station, fields=fields)
    assert refused.value.field == field


def test_a_station_keeps_to_its_shop(shop: Shop, other_shop: Shop):
    station = make_station(shop)
    with pytest.raises(NotOfThisShop):
        actions.edit_station(station=station, fields={"room": make_room(other_shop)})
    with pytest.raises(NotOfThisShop):
        actions.edit_station(station=station, fields={"prerequisites": [make_station(other_shop)]})
    with pytest.raises(NotOfThisShop):
        actions.edit_station(station=station, fields={"prerequisites": [station]})
    with pytest.raises(UnknownField):
        actions.edit_station(station=station, fields={"shop": other_shop})


def test_two_stations_do_not_share_an_address(shop: Shop):
    make_station(shop, slug="drill")
    with pytest.raises(StationsRefused, match="choose another"):
        actions.edit_station(station=make_station(shop), fields={"slug": "drill"})


def test_a_tool_goes_out_of_service_with_its_fault_and_comes_back(shop: Shop, duty_lead: User):
    tool = make_tool(shop, make_station(shop), count=3)
    broken = actions.take_out_of_service(tool=tool, fault="chuck slips", count=2, by=duty_lead)
    assert (broken.out_of_service, broken.fault, broken.changed_by) == (2, "chuck slips", duty_lead)
    mended = actions.put_back_in_service(tool=tool, by=duty_lead)
    assert (mended.out_of_service, mended.fault) == (0, "")


def test_no_more_tools_are_broken_than_there_are_and_the_fault_is_told(shop: Shop):
    tool = make_tool(shop, count=2)
    with pytest.raises(ToolRefused, match="Fault"):
        actions.take_out_of_service(tool=tool, fault=" ", by=None)
    for count in (0, 3):
        with pytest.raises(ToolRefused, match="2 of"):
            actions.take_out_of_service(tool=tool, fault="bent", count=count, by=None)
    with pytest.raises(ToolRefused, match="in service already"):
        actions.put_back_in_service(tool=tool, by=None)


def test_a_part_is_added_as_drawn(shop: Shop):
    stock, item = make_item(shop, kind=Item.Kind.METAL), make_item(shop)
    hole = {"from_end_um": inches(2), "diameter_um": inches("3/8")}
    part = actions.add_part(
        shop=shop,
        fields={"name": "Arm", "item": item, "stock": stock, "length_um": inches(9),
                "tolerance_um": 800, "holes": [hole]},
    )  # fmt: skip
    assert Part.objects.get().holes == [hole]
    assert part.item == item


@pytest.mark.parametrize(
    "fields",
    [
        {"length_um": 0},
        {"tolerance_um": inches(50)},
        {"width_um": inches(3)},
        {"holes": [{"from_end_um": 0, "diameter_um": 100}]},
        {"holes": [{"from_end_um": 100}]},
        {"bends": [{"at_um": 100, "angle_deg": 200, "inside_radius_um": 100}]},
    ],
)
def test_a_part_of_which_no_drawing_can_be_made_is_refused(shop: Shop, fields: dict[str, Any]):
    part = make_part(shop)
    with pytest.raises(StationsRefused):
        actions.edit_part(part=part, fields=fields)
    part.refresh_from_db()
    assert part.length_um == inches(24)


def test_a_changed_part_changes_drafts_and_no_sheet_in_force(shop: Shop, draft: BuildSheet):
    old = keep_sheet(shop, STAND, status=Status.IN_FORCE, in_force_from=DAY)
    stem = draft.parts.get(item__slug="stem")
    actions.edit_part(part=stem, fields={"length_um": inches(36)})
    old.refresh_from_db()
    assert sheet_of(draft).part("stem").length_um == inches(36)
    assert sheet_of(old) == STAND


def test_a_draft_comes_into_force_and_the_revision_before_is_superseded(
    shop: Shop, draft: BuildSheet, coordinator: User
):
    actions.put_in_force(sheet=draft, on=DAY, by=coordinator)
    following = actions.new_revision(sheet=draft, by=coordinator)
    assert (following.revision, following.status) == ("D", Status.DRAFT)
    actions.put_in_force(sheet=following, on=DAY, by=coordinator)
    draft.refresh_from_db()
    assert (draft.status, following.status) == (Status.SUPERSEDED, Status.IN_FORCE)
    assert sheet_of(draft) == CYLINDER


def test_a_new_revision_is_a_copy_but_for_its_letter(draft: BuildSheet):
    actions.put_in_force(sheet=draft, on=DAY, by=None)
    copied = sheet_of(actions.new_revision(sheet=draft, by=None))
    assert (copied.parts, copied.joints, copied.roll, copied.fit) == (
        CYLINDER.parts, CYLINDER.joints, CYLINDER.roll, CYLINDER.fit,
    )  # fmt: skip


def test_a_drawing_has_one_draft_at_a_time(draft: BuildSheet):
    with pytest.raises(NotADraft):
        actions.new_revision(sheet=draft, by=None)


def test_a_sheet_in_force_is_not_changed(draft: BuildSheet):
    actions.put_in_force(sheet=draft, on=DAY, by=None)
    part = draft.parts.first()
    with pytest.raises(NotADraft, match="new revision"):
        actions.edit_sheet(sheet=draft, fields={"note": "x"}, by=None)
    with pytest.raises(NotADraft):
        actions.set_part(sheet=draft, part=part, per_set=2, by=None)
    with pytest.raises(NotADraft):
        actions.take_part_off(sheet=draft, part=part, by=None)
    with pytest.raises(NotADraft):
        actions.put_in_force(sheet=draft, on=DAY, by=None)


def test_a_superseded_sheet_leaves_the_drawing_without_one_in_force(draft: BuildSheet):
    with pytest.raises(NotADraft):
        actions.supersede(sheet=draft, by=None)
    actions.put_in_force(sheet=draft, on=DAY, by=None)
    assert actions.supersede(sheet=draft, by=None).status == Status.SUPERSEDED
    assert sheet_of(draft) == CYLINDER


def test_what_cannot_be_drawn_does_not_come_into_force(shop: Shop, draft: BuildSheet):
    with pytest.raises(NotDrawable, match="Parts"):
        actions.put_in_force(sheet=make_sheet(shop), on=DAY, by=None)
    draft.fit["inner"] = "nothing-known"
    with pytest.raises(NotDrawable, match="nothing-known"):
        actions.put_in_force(sheet=draft, on=DAY, by=None)
    draft.refresh_from_db()
    assert draft.status == Status.DRAFT


def test_parts_go_on_a_draft_and_come_off_unless_something_names_them(
    shop: Shop, draft: BuildSheet
):
    extra = make_part(shop, name="Hook")
    actions.set_part(sheet=draft, part=extra, per_set=2, by=None)
    actions.set_part(sheet=draft, part=extra, per_set=3, by=None)
    assert draft.sheet_parts.get(part=extra).per_set == 3
    actions.take_part_off(sheet=draft, part=extra, by=None)
    assert not draft.sheet_parts.filter(part=extra).exists()
    with pytest.raises(StationsRefused, match="named by"):
        actions.take_part_off(sheet=draft, part=draft.parts.get(item__slug="stem"), by=None)


def test_parts_and_sets_of_another_shop_are_refused(
    shop: Shop, other_shop: Shop, draft: BuildSheet
):
    with pytest.raises(NotOfThisShop):
        actions.set_part(sheet=draft, part=make_part(other_shop), per_set=1, by=None)
    with pytest.raises(NotOfThisShop):
        actions.add_part(
            shop=shop, fields={"name": "x", "item": make_item(other_shop), "length_um": 9_000}
        )
    with pytest.raises(NotOfThisShop):
        actions.make_draft(
            shop=shop, name="x", drawing_number="x", set_item=make_item(other_shop), by=None
        )


def test_a_drawing_number_and_revision_are_used_once(shop: Shop):
    fields = {"shop": shop, "name": "x", "drawing_number": "N-1", "set_item": make_item(shop)}
    actions.make_draft(**fields, by=None)
    with pytest.raises(StationsRefused, match="that number and revision already"):
        actions.make_draft(**fields, by=None)


@pytest.mark.parametrize(
    ("revision", "after"), [("A", "B"), ("Z", "AA"), ("AZ", "BA"), ("9", "10"), ("c", "D")]
)
def test_revisions_count_on(revision: str, after: str):
    assert next_letter(revision) == after


def test_nothing_but_a_station_of_the_shop_has_a_tool(shop: Shop, other_shop: Shop):
    with pytest.raises(NotOfThisShop):
        actions.add_tool(
            shop=shop, fields={"name": "Vise"}, stations=[make_station(other_shop)], by=None
        )
    tool = actions.add_tool(
        shop=shop, fields={"name": "Vise", "count": 2}, stations=[make_station(shop)], by=None
    )
    assert (tool.count, Station.objects.filter(tools=tool).count()) == (2, 1)
