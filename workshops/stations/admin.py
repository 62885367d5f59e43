"""Stations and build sheets in the administration: shown; the site's own pages change them."""

from __future__ import annotations

from django.contrib import admin

from inventory.places.readonly import ReadOnlyAdmin
from workshops.stations.models import BuildSheet, Operation, Part, Station, Tool


@admin.register(Station)
class StationAdmin(ReadOnlyAdmin[Station]):
    list_display = ["name", "shop", "kind", "room", "level_needed", "age_min", "is_in_use"]
    list_filter = ["shop", "kind"]


@admin.register(Tool)
class ToolAdmin(ReadOnlyAdmin[Tool]):
    list_display = ["name", "shop", "number", "count", "out_of_service", "fault"]
    list_filter = ["shop"]


@admin.register(Part)
class PartAdmin(ReadOnlyAdmin[Part]):
    list_display = ["name", "shop", "role", "item", "stock", "length_um"]
    list_filter = ["shop", "role"]


@admin.register(BuildSheet)
class BuildSheetAdmin(ReadOnlyAdmin[BuildSheet]):
    list_display = ["name", "shop", "drawing_number", "revision", "status", "in_force_from"]
    list_filter = ["shop", "status"]


@admin.register(Operation)
class OperationAdmin(ReadOnlyAdmin[Operation]):
    list_display = ["name", "shop", "station", "minutes_per_piece", "is_in_use"]
    list_filter = ["shop", "station"]
