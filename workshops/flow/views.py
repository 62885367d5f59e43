"""The flow board, and the change of places that it offers."""

from __future__ import annotations

from datetime import date, datetime

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.keeping import keep_offline
from workshops.flow.board import flow_board
from workshops.flow.swaps import best_swap
from workshops.nights import actions
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.models import Block, Night
from workshops.nights.refusals import NightRefused, PlacingRefused
from workshops.people.models import Person
from workshops.stations.models import Station


@guard(Permission.RUN_NIGHT)
@keep_offline
def board(request: ShopRequest, on: date) -> HttpResponse:
    """What lies on each rack, which station starves or drowns, what was made."""
    now = timezone.now()
    page = {"flow": flow_board(night_or_404(request.shop, on), now), "now": now, "night": on}
    return render(request, "flow/board.html", page)


@require_http_methods(["GET", "POST"])
@guard(Permission.RUN_NIGHT)
def swap(request: ShopRequest, on: date) -> HttpResponse:
    """The two who would best change places; POST does it."""
    night, now = night_or_404(request.shop, on), timezone.now()
    if request.method == "GET":
        page = {"swap": best_swap(night, now), "night": night}
        return render(request, "flow/_swap.html", page)
    try:
        messages.success(request, _moved(request, night, now))
    except (NightRefused, PlacingRefused) as refused:
        messages.error(request, str(refused))
    return to_night(night, "flow:board")


def _moved(request: ShopRequest, night: Night, now: datetime) -> str:
    """What was done: two changed places, or one moved."""
    one = get_object_or_404(Person, shop=request.shop, pk=_number(request.POST.get("one", "")))
    if "other" in request.POST:
        pk = _number(request.POST["other"])
        other = get_object_or_404(Person, shop=request.shop, pk=pk)
        actions.change_places(night=night, one=one, other=other, by=request.user, at=now)
        return f"{one.short_name} and {other.short_name} change places: go and tell them."
    block = get_object_or_404(Block, night=night, pk=_number(request.POST.get("block", "")))
    at = _number(request.POST.get("station", ""))
    station = get_object_or_404(Station, shop=request.shop, pk=at)
    actions.place(
        night=night, block=block, person=one, station=station, is_locked=False, to_end=True,
        by=request.user, at=now,
    )  # fmt: skip
    return f"{one.short_name} goes to {station}: go and tell them."


def _number(typed: str) -> int:
    return int(typed) if typed.isdecimal() else 0
