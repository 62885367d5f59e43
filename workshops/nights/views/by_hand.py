"""Moving people by hand: dragged or tapped on the board, or by the page that needs no script."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights import actions, queries
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.models import Block, Change, Night, Placing
from workshops.nights.moving import places_for
from workshops.nights.refusals import BoardChanged, NightRefused, PlacingRefused
from workshops.nights.views.board import board_context
from workshops.people.models import Person
from workshops.stations.models import Station

REFUSED = 422  # the board comes back with it, as it stands


def answer(request: ShopRequest, night: Night, said: str, *, is_done: bool = True) -> HttpResponse:
    """The board with what happened, to the script that asked; else back to the page with it."""
    if not request.headers.get("HX-Request"):
        (messages.success if is_done else messages.error)(request, said)
        return to_night(night, fragment="#board")
    night = queries.night_on(request.shop, night.date) or night
    context = board_context(night) | {"said": said, "is_done": is_done}
    status = 200 if is_done else REFUSED
    return render(request, "nights/_night_board.html", context, status=status)


@guard(Permission.RUN_NIGHT)
def move(request: ShopRequest, on: date, block: int, person: int) -> HttpResponse:
    """Choose another place for one person in one block, and put them there."""
    row = night_or_404(request.shop, on)
    stretch = get_object_or_404(Block, pk=block, night=row)
    who = get_object_or_404(Person, pk=person, shop=request.shop)
    if row.status != Night.Status.PLANNED:
        return answer(request, row, f"The night of {row} is {row.get_status_display()}.",
                      is_done=False)  # fmt: skip
    if request.method == "POST":
        said, is_done = _moved(request, stretch, who)
        return answer(request, row, said, is_done=is_done)
    context = {"night": row, "stretch": stretch, "places": places_for(row, stretch, who)}
    return render(request, "nights/move.html", context)


def _moved(request: ShopRequest, block: Block, person: Person) -> tuple[str, bool]:
    """What happened in one sentence, and whether anybody moved."""
    night, wanted = block.night, request.POST.get("station", "")
    name = queries.names_in(request.shop)[person.pk]
    to_end = request.POST.get("to_end") == "yes"
    when = f"from {block.starts:%H:%M} to the end" if to_end else f"for {block}"
    seen = request.POST.get("seen", "")
    how: dict[str, Any] = {"to_end": to_end, "seen": seen, "by": request.user}
    try:
        if wanted == "none":
            actions.unplace(night=night, block=block, person=person, at=timezone.now(), **how)
            return f"{name} has no place {when.replace('for', 'at')}.", True
        station = Station.objects.filter(shop=request.shop, pk=_number(wanted)).first()
        if station is None:
            raise NightRefused("Choose a station from the list.")
        actions.place(
            night=night, block=block, person=person, station=station, at=timezone.now(), **how
        )
    except BoardChanged as changed:
        return f"{changed} {name} stays where they were.", False
    except (NightRefused, PlacingRefused) as refused:
        return f"{name} stays where they were. {refused}", False
    return f"{name} is at {station} {when}.", True


def _number(text: str) -> int:
    return int(text) if text.isdecimal() else 0


@require_GET
@guard(Permission.RUN_NIGHT)
def places(request: ShopRequest, on: date, block: int, person: int) -> HttpResponse:
    """Where somebody who was picked up may stand, and why not elsewhere: for the board's cells."""
    row = night_or_404(request.shop, on)
    stretch = get_object_or_404(Block, pk=block, night=row)
    who = get_object_or_404(Person, pk=person, shop=request.shop)
    found = places_for(row, stretch, who, to_end=request.GET.get("to_end") == "yes")
    return JsonResponse({
        "name": found.name,
        "seen": found.version,
        "why": found.here.why if found.here else "",
        "cells": [each.to_json() for each in found.offers],
    })  # fmt: skip


@require_POST
@guard(Permission.RUN_NIGHT)
def lock(request: ShopRequest, on: date, placing: int) -> HttpResponse:
    """Fix a placing for the next plan, or let it go."""
    row = night_or_404(request.shop, on)
    rows = Placing.objects.select_related("night__shop", "station", "block")
    placed = get_object_or_404(rows, pk=placing, night=row)
    name = queries.names_in(request.shop)[placed.person_id]
    try:
        done = actions.set_lock(
            placing=placed, is_locked=not placed.is_locked, by=request.user, at=timezone.now()
        )
    except (NightRefused, PlacingRefused) as refused:
        return answer(request, row, str(refused), is_done=False)
    told = "stays there in the next plan" if done.is_locked else "may be moved by the next plan"
    return answer(request, row, f"{name}, {placed.station} {placed.block}: {told}.")


@require_POST
@guard(Permission.RUN_NIGHT)
def step_back(request: ShopRequest, on: date, change: int) -> HttpResponse:
    """Take the latest step on the board back."""
    row = night_or_404(request.shop, on)
    get_object_or_404(Change, pk=change, night=row)
    try:
        done = actions.undo_step(night=row, change=change, at=timezone.now())
    except (NightRefused, PlacingRefused) as refused:
        return answer(request, row, f"Not taken back. {refused}", is_done=False)
    return answer(request, row, " ".join(["Taken back.", *done.left_out]))


@require_POST
@guard(Permission.RUN_NIGHT)
def step_again(request: ShopRequest, on: date, change: int) -> HttpResponse:
    """Do again what was taken back last."""
    row = night_or_404(request.shop, on)
    get_object_or_404(Change, pk=change, night=row)
    try:
        done = actions.redo_step(night=row, change=change)
    except (NightRefused, PlacingRefused) as refused:
        return answer(request, row, f"Not done again. {refused}", is_done=False)
    return answer(request, row, " ".join(["Done again.", *done.left_out]))
