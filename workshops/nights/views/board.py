"""The board: who stands where, moved by hand or placed by the engine."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.common.jobs import start
from workshops.nights import actions, queries
from workshops.nights.board import board_for
from workshops.nights.lost import lost_by_a_no
from workshops.nights.models import Block, Night, Placing
from workshops.nights.moving import places_for
from workshops.nights.refusals import NightRefused, PlacingRefused
from workshops.nights.teaching import training_on
from workshops.nights.views.finding import night_or_404, to_night
from workshops.people.models import Person
from workshops.stations.models import Station


@guard(Permission.SEE_NIGHTS)
def night(request: ShopRequest, on: date) -> HttpResponse:
    """Can we run, who stands where, what breaks a rule, what will be made."""
    row = night_or_404(request, on)
    board = board_for(row)
    context = {
        "night": row,
        "board": board,
        "last_spark": queries.last_spark_of(row, board.loaded.register.rules.watch_minutes),
        "expected": queries.expected_of(row.plan),
        "training": training_on(row, board.names, board.loaded.placings),
        "expected_sets": queries.expected_sets(row.plan),
        "lost": lost_by_a_no(board) if row.status == Night.Status.PLANNED else [],
    }
    return render(request, "nights/night.html", context)


@require_POST
@guard(Permission.RUN_NIGHT)
def plan(request: ShopRequest, on: date) -> HttpResponse:
    """Have the engine place everybody; a job, with its page."""
    row = night_or_404(request, on)
    keeping = request.POST.get("anew") != "yes"
    job = start("plan_night", shop=request.shop, by=request.user, night=row.pk, keeping=keeping)
    return HttpResponseRedirect(reverse("common:job", args=[request.shop.slug, job.pk]))


@guard(Permission.RUN_NIGHT)
def move(request: ShopRequest, on: date, block: int, person: int) -> HttpResponse:
    """Choose another place for one person in one block, and put them there."""
    row = night_or_404(request, on)
    stretch = get_object_or_404(Block, pk=block, night=row)
    who = get_object_or_404(Person, pk=person, shop=request.shop)
    if row.status != Night.Status.PLANNED:
        messages.error(request, f"The night of {row} is {row.get_status_display()}.")
        return to_night(row)
    if request.method == "POST":
        _moved(request, stretch, who)
        return to_night(row, fragment="#board")
    context = {"night": row, "stretch": stretch} | places_for(row, stretch, who)
    return render(request, "nights/move.html", context)


def _moved(request: ShopRequest, block: Block, person: Person) -> None:
    night, wanted = block.night, request.POST.get("station", "")
    name = queries.names_in(request.shop)[person.pk]
    try:
        if wanted == "none":
            actions.unplace(night=night, block=block, person=person)
            messages.success(request, f"{name} has no place at {block}.")
            return
        station = Station.objects.filter(shop=request.shop, pk=_number(wanted)).first()
        if station is None:
            raise NightRefused("Choose a station from the list.")
        actions.place(night=night, block=block, person=person, station=station)
    except (NightRefused, PlacingRefused) as refused:
        messages.error(request, f"{name} stays where they were. {refused}")
    else:
        messages.success(request, f"{name} is at {station} for {block}.")


def _number(text: str) -> int:
    return int(text) if text.isdecimal() else 0


@require_POST
@guard(Permission.RUN_NIGHT)
def lock(request: ShopRequest, on: date, placing: int) -> HttpResponse:
    """Fix a placing for the next plan, or let it go."""
    row = night_or_404(request, on)
    placed = get_object_or_404(Placing.objects.select_related("night"), pk=placing, night=row)
    try:
        actions.set_lock(placing=placed, is_locked=not placed.is_locked)
    except (NightRefused, PlacingRefused) as refused:
        messages.error(request, str(refused))
    return to_night(row, fragment="#board")
