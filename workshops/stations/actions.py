"""Stations and tools: change them, take a tool out of service and bring it back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from inventory.places.models import Shop
from workshops.access.models import User
from workshops.stations.inspecting import record_inspection
from workshops.stations.models import Station, Tool
from workshops.stations.operations import add_operation, edit_operation, set_parts_list
from workshops.stations.parts import add_part, edit_part
from workshops.stations.refusals import NotOfThisShop, StationsRefused, ToolRefused
from workshops.stations.revisions import (
    edit_sheet,
    make_draft,
    new_revision,
    put_in_force,
    set_part,
    supersede,
    take_part_off,
)
from workshops.stations.stopping import reopen_station, stop_station
from workshops.stations.writing import check, fill

__all__ = [
    "StationsRefused", "add_operation", "add_part", "add_station", "add_tool", "edit_operation",
    "edit_part", "edit_sheet", "edit_station", "make_draft", "new_revision",
    "put_back_in_service", "put_in_force", "record_inspection", "reopen_station", "set_part",
    "set_parts_list", "stop_station", "supersede", "take_out_of_service", "take_part_off",
]  # fmt: skip

STATION_FIELDS = frozenset({
    "slug", "name", "kind", "room", "sequence", "is_in_use", "benches", "crew_min", "crew_max",
    "heads_wanted", "is_spark", "is_hooded", "is_straw", "is_dusty", "is_heavy", "can_sit",
    "is_off_floor",
    "needs_buddy", "level_needed", "age_min", "learners_per_lead", "wear", "never_wear",
    "cautions", "weld_process", "weld_amperes",
})  # fmt: skip
TOOL_FIELDS = frozenset({"name", "number", "count", "inspection_months"})


@transaction.atomic
def add_station(*, shop: Shop, fields: Mapping[str, Any]) -> Station:
    """A new station.

    Raises
    ------
    UnknownField, NotOfThisShop, StationsRefused
        Naming the field and what to do.
    """
    return _write_station(Station(shop=shop), fields)


@transaction.atomic
def edit_station(*, station: Station, fields: Mapping[str, Any]) -> Station:
    """The station with those facts changed; ``prerequisites`` replaces all of them.

    Raises
    ------
    UnknownField, NotOfThisShop, StationsRefused
        Naming the field and what to do.
    """
    return _write_station(station, fields)


def _write_station(station: Station, fields: Mapping[str, Any]) -> Station:
    plain = {name: value for name, value in fields.items() if name != "prerequisites"}
    fill(station, plain, STATION_FIELDS)
    if station.is_spark and station.is_straw:
        raise StationsRefused(
            "Hot work: a station cannot handle straw too; make two stations of it.", "is_spark"
        )
    if station.room_id and station.room.shop_id != station.shop_id:
        raise NotOfThisShop("Room: choose a room of this shop.", "room")
    check(station)
    station.save()
    if "prerequisites" in fields:
        _set_prerequisites(station, fields["prerequisites"])
    return station


def _set_prerequisites(station: Station, wanted: Iterable[Station]) -> None:
    rows = list(wanted)
    if any(row.shop_id != station.shop_id or row == station for row in rows):
        raise NotOfThisShop("Needed first: choose other stations of this shop.", "prerequisites")
    station.prerequisites.set(rows)


@transaction.atomic
def add_tool(
    *, shop: Shop, fields: Mapping[str, Any], stations: Iterable[Station], by: User | None
) -> Tool:
    """A tool, or so many alike, of the stations that use it.

    Raises
    ------
    UnknownField, NotOfThisShop, StationsRefused
        Naming the field and what to do.
    """
    rows = list(stations)
    if any(row.shop_id != shop.pk for row in rows):
        raise NotOfThisShop("Stations: choose stations of this shop.", "stations")
    tool = fill(Tool(shop=shop, changed_by=by), fields, TOOL_FIELDS)
    check(tool)
    tool.save()
    tool.stations.set(rows)
    return tool


@transaction.atomic
def take_out_of_service(
    *, tool: Tool, fault: str, count: int = 1, by: User | None, at: datetime | None = None
) -> Tool:
    """So many of the tool are not used until they are mended; plans see it at once.

    Raises
    ------
    ToolRefused
        When no fault is told, or fewer are in service.
    """
    row = Tool.objects.select_for_update().get(pk=tool.pk)
    if not fault.strip():
        raise ToolRefused("Fault: write what is wrong with it.", "fault")
    if not 1 <= count <= row.count - row.out_of_service:
        left = row.count - row.out_of_service
        raise ToolRefused(f"How many: {left} of {row.name} are in service.", "count")
    row.out_of_service += count
    row.fault = fault.strip()
    row.changed_by, row.changed_at = by, at or timezone.now()
    row.save()
    return row


@transaction.atomic
def put_back_in_service(*, tool: Tool, by: User | None, at: datetime | None = None) -> Tool:
    """All of the tool are mended and in use again.

    Raises
    ------
    ToolRefused
        When none was out of service.
    """
    row = Tool.objects.select_for_update().get(pk=tool.pk)
    if not row.out_of_service:
        raise ToolRefused(f"{row.name} is in service already.")
    row.out_of_service, row.fault = 0, ""
    row.changed_by, row.changed_at = by, at or timezone.now()
    row.save()
    return row
