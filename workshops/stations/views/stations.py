"""Stations and tools: list, page, edit; a tool out of service and back."""

from __future__ import annotations

from django.contrib import messages
from django.db.models import Q
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from inventory.places.queries import rooms_of
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stations import actions, queries
from workshops.stations.forms import FaultForm, StationForm, ToolForm
from workshops.stations.models import Station, Tool
from workshops.stations.refusals import StationsRefused
from workshops.stations.views.answering import WRITES, answer, kept, lead_to

TRAITS = {
    "is_spark": "hot work",
    "is_hooded": "behind a hood",
    "is_straw": "straw or hay",
    "is_dusty": "dusty",
    "is_heavy": "heavy lifting",
    "can_sit": "can be done seated",
    "is_off_floor": "off the floor",
    "needs_buddy": "never alone",
}


@guard(Permission.SEE_SHEETS)
def stations(request: ShopRequest) -> HttpResponse:
    """Every station: what it takes to stand there, and which tools are out of service."""
    rows = list(queries.stations_of(request.shop))
    stood = queries.inspections_of(request.shop, rows)
    overdue = {each.tool.pk for each in stood.values() if each.is_overdue}
    return render(request, "stations/list.html", {"stations": rows, "overdue": overdue})


@guard(Permission.SEE_SHEETS)
def station(request: ShopRequest, pk: int) -> HttpResponse:
    """A station: who may stand there, wear, cautions, what is made, tools."""
    row = get_object_or_404(queries.stations_of(request.shop), pk=pk)
    page = {
        "station": row,
        "operations": queries.operations_at(row),
        "tools": queries.tools_of(request.shop, only=Q(stations=row)),
        "traits": [words for name, words in TRAITS.items() if getattr(row, name)],
    }
    return render(request, "stations/station.html", page)


@WRITES
@guard(Permission.EDIT_SHEETS)
def add(request: ShopRequest) -> HttpResponse:
    """A new station; without a room it could stand nowhere."""
    if not rooms_of(request.shop).exists():
        return lead_to(request, "stations:rooms", "Name a room first: a station stands in one.")
    form = StationForm(request.POST or None, shop=request.shop)
    row = kept(
        request, form, lambda _: actions.add_station(shop=request.shop, fields=form.new_fields())
    )
    if row:
        messages.success(request, f"{row} is added.")
        return redirect("stations:station", shop=request.shop.slug, pk=row.pk)
    back = reverse("stations:list", args=[request.shop.slug])
    return answer(request, form, "Which station is new?", "Add", back)


@WRITES
@guard(Permission.EDIT_SHEETS)
def edit(request: ShopRequest, pk: int) -> HttpResponse:
    """Change a station."""
    row = get_object_or_404(Station, shop=request.shop, pk=pk)
    form = StationForm(request.POST or None, shop=request.shop, instance=row)
    done = kept(request, form, lambda fields: actions.edit_station(
        station=get_object_or_404(Station, pk=pk), fields=fields
    ))  # fmt: skip
    if done:
        messages.success(request, f"{row}: kept.")
        return redirect("stations:station", shop=request.shop.slug, pk=pk)
    back = reverse("stations:station", args=[request.shop.slug, pk])
    return answer(request, form, f"How does {row} work?", "Keep", back)


@guard(Permission.SEE_SHEETS)
def tools(request: ShopRequest) -> HttpResponse:
    """Every tool, those out of service first, and when it is to be inspected."""
    return render(request, "stations/tools.html", {"tools": queries.tools_of(request.shop)})


@WRITES
@guard(Permission.EDIT_SHEETS)
def add_tool(request: ShopRequest) -> HttpResponse:
    """A new tool."""
    form = ToolForm(request.POST or None, shop=request.shop)
    row = kept(request, form, lambda fields: actions.add_tool(
        shop=request.shop, stations=fields.pop("stations"), fields=fields, by=request.user
    ))  # fmt: skip
    if row:
        messages.success(request, f"{row} is added.")
        return redirect("stations:tools", shop=request.shop.slug)
    back = reverse("stations:tools", args=[request.shop.slug])
    return answer(request, form, "Which tool is new?", "Add", back)


@WRITES
@guard(Permission.RUN_NIGHT)
def tool_out(request: ShopRequest, pk: int) -> HttpResponse:
    """Take a tool out of service: plans leave it out at once."""
    tool = get_object_or_404(Tool, shop=request.shop, pk=pk)
    form = FaultForm(request.POST or None)
    done = kept(request, form, lambda fields: actions.take_out_of_service(
        tool=tool, by=request.user, **fields
    ))  # fmt: skip
    if done:
        messages.success(request, f"{tool} is out of service.")
        return redirect("stations:tools", shop=request.shop.slug)
    back = reverse("stations:tools", args=[request.shop.slug])
    return answer(request, form, f"What is wrong with {tool}?", "Out of service", back)


@require_POST
@guard(Permission.RUN_NIGHT)
def tool_back(request: ShopRequest, pk: int) -> HttpResponse:
    """The tool is mended."""
    tool = get_object_or_404(Tool, shop=request.shop, pk=pk)
    try:
        actions.put_back_in_service(tool=tool, by=request.user)
        messages.success(request, f"{tool} is in service again.")
    except StationsRefused as refused:
        messages.error(request, str(refused))
    return redirect("stations:tools", shop=request.shop.slug)
