"""What is made at a station, and the rooms that stations stand in."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from inventory.places.actions import add_room
from inventory.places.queries import rooms_of
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stations import actions
from workshops.stations.models import Operation, Station
from workshops.stations.operation_forms import OperationForm, RoomForm, free_recipes
from workshops.stations.views.answering import WRITES, answer, kept, lead_to


@WRITES
@guard(Permission.EDIT_SHEETS)
def rooms(request: ShopRequest) -> HttpResponse:
    """The rooms of the shop, and one more."""
    form = RoomForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        room = add_room(shop=request.shop, name=form.cleaned_data["name"])
        messages.success(request, f"{room}: a room of the shop.")
        return redirect("stations:rooms", shop=request.shop.slug)
    page = {"form": form, "rooms": rooms_of(request.shop)}
    return render(request, "stations/rooms.html", page, status=422 if form.is_bound else 200)


@WRITES
@guard(Permission.EDIT_SHEETS)
def add(request: ShopRequest, pk: int) -> HttpResponse:
    """A new operation of a station."""
    station = get_object_or_404(Station, shop=request.shop, pk=pk)
    if not free_recipes(request.shop).exists():
        says = "Nothing waits to be made. Open what comes out in the stock, give it a parts list."
        return lead_to(request, "stock:on_hand", says)
    form = OperationForm(request.POST or None, shop=request.shop)
    row = kept(request, form, lambda fields: actions.add_operation(station=station, fields=fields))
    if row:
        messages.success(request, f"{row} is added.")
        return redirect("stations:station", shop=request.shop.slug, pk=pk)
    back = reverse("stations:station", args=[request.shop.slug, pk])
    return answer(request, form, f"What is made at {station}?", "Add", back)


@WRITES
@guard(Permission.EDIT_SHEETS)
def edit(request: ShopRequest, pk: int) -> HttpResponse:
    """Change an operation."""
    row = get_object_or_404(Operation.objects.select_related("station"), shop=request.shop, pk=pk)
    form = OperationForm(request.POST or None, shop=request.shop, instance=row)
    done = kept(request, form, lambda fields: actions.edit_operation(
        operation=get_object_or_404(Operation, pk=pk), fields=fields
    ))  # fmt: skip
    if done:
        messages.success(request, f"{row}: kept.")
        return redirect("stations:station", shop=request.shop.slug, pk=row.station_id)
    back = reverse("stations:station", args=[request.shop.slug, row.station_id])
    return answer(request, form, f"How is “{row}” done?", "Keep", back)
