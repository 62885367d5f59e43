"""Addresses of stations and build sheets, below the shop's own name."""

from __future__ import annotations

from django.urls import path

from workshops.stations.views import jigs, operations, parts, sheets, stations, tools

app_name = "stations"
urlpatterns = [
    path("stations/", stations.stations, name="list"),
    path("stations/add/", stations.add, name="add"),
    path("stations/<int:pk>/", stations.station, name="station"),
    path("stations/<int:pk>/edit/", stations.edit, name="edit"),
    path("stations/<int:pk>/operations/add/", operations.add, name="add_operation"),
    path("operations/<int:pk>/", operations.edit, name="operation"),
    path("rooms/", operations.rooms, name="rooms"),
    path("tools/", stations.tools, name="tools"),
    path("tools/add/", stations.add_tool, name="add_tool"),
    path("tools/<int:pk>/out/", stations.tool_out, name="tool_out"),
    path("tools/<int:pk>/back/", stations.tool_back, name="tool_back"),
    path("tools/<int:pk>/inspections/", tools.inspections, name="inspections"),
    path("build-sheets/", sheets.sheets, name="sheets"),
    path("build-sheets/add/", sheets.add, name="add_sheet"),
    path("build-sheets/<int:pk>/", sheets.sheet, name="sheet"),
    path("build-sheets/<int:pk>/edit/", sheets.edit, name="edit_sheet"),
    path("build-sheets/<int:pk>/check/", sheets.check, name="check_sheet"),
    path("build-sheets/<int:pk>/part/", sheets.put_part, name="put_part"),
    path("build-sheets/<int:pk>/part/<int:part>/off/", sheets.part_off, name="part_off"),
    path("build-sheets/<int:pk>/revise/", sheets.revise, name="revise"),
    path("build-sheets/<int:pk>/in-force/", sheets.in_force, name="in_force"),
    path("build-sheets/<int:pk>/supersede/", sheets.supersede, name="supersede"),
    path("build-sheets/<int:pk>/parts/<slug:item>/dxf/", jigs.part_dxf, name="part_dxf"),
    path("build-sheets/<int:pk>/parts/<slug:item>/template/", jigs.template, name="template"),
    path(
        "build-sheets/<int:pk>/parts/<slug:item>/template/dxf/",
        jigs.template_dxf,
        name="template_dxf",
    ),
    path("parts/add/", parts.add, name="add_part"),
    path("parts/<int:pk>/", parts.part, name="part"),
    path("parts/check/", parts.check, name="check_part"),
]
