"""Counting: the page of buttons, what a tablet shares, and taking a count back."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_POST

from inventory.ledger.actions import PostingRefused
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.keeping import keep_offline
from workshops.counting import actions, queries
from workshops.counting.forms import TallyForm
from workshops.counting.outbox import read_batch
from workshops.counting.refusals import CountingRefused, Misread
from workshops.nights.actions import tally as count
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.models import Night, Tally
from workshops.nights.queries import counts_by_station
from workshops.nights.refusals import NightRefused
from workshops.nights.standing import stopped_at

SHOWN = 12  # latest counts on the page


# Never shown again from the browser's memory: an old page would send its old keys.
@cache_control(no_store=True)
@guard(Permission.RUN_NIGHT)
@keep_offline
def tally(request: ShopRequest, on: date) -> HttpResponse:
    """Count pieces of an operation; without scripts each press is one send."""
    night = night_or_404(request.shop, on)
    form = TallyForm(request.POST or None, shop=request.shop)
    if request.method == "POST":
        if form.is_valid():
            _count(request, night, form.cleaned_data)
            return to_night(night, "counting:tally")
        messages.error(request, f"Nothing was counted. {form.told()}")
    context = {
        "night": night,
        "groups": counts_by_station(night),
        "latest": list(queries.latest_of(night)[:SHOWN]),
        "kept": len(queries.not_booked(night)),
    }
    return render(request, "counting/tally.html", context, status=422 if form.errors else 200)


def _count(request: ShopRequest, night: Night, given: dict[str, Any]) -> None:
    key, at = given.pop("client_key"), timezone.now()
    try:
        row = count(night=night, at=at, by=request.user, client_key=key, **given)
    except (NightRefused, PostingRefused) as refused:
        messages.error(request, str(refused))
        return
    actions.settle(night=night, operations=[row.operation_id], by=request.user, at=at)
    station = row.operation.station
    for name in stopped_at(night, station):
        # What was made is counted all the same: the count is true, and the lead must know.
        messages.warning(request, f"{name} is placed at {station} against the register: see to it.")
    told = f"{row.operation}: {row.good} good, {row.hold} on hold, {row.scrap} scrap"
    if row.counted_at == at:
        messages.success(request, f"{told} counted.")
    else:
        messages.warning(request, f"{told}: that press was counted before, nothing was added.")


@require_POST
@guard(Permission.RUN_NIGHT)
def share(request: ShopRequest, on: date) -> HttpResponse:
    """JSON POST from a tablet (``outbox.py``): its new taps are booked, and it is told all."""
    night, now = night_or_404(request.shop, on), timezone.now()
    try:
        batch = read_batch(json.loads(request.body), now)
    except (Misread, ValueError) as wrong:
        return JsonResponse({"says": f"The tablet's taps cannot be read: {wrong}"}, status=422)
    shared = actions.share(night=night, batch=batch, by=request.user, at=now)
    return JsonResponse(queries.answer_to(night, shared.tablet, (tap.key for tap in batch.taps)))


@require_POST
@guard(Permission.RUN_NIGHT)
def undo(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """Take a count back."""
    night = night_or_404(request.shop, on)
    row = get_object_or_404(
        Tally.objects.select_related("entry", "night__shop"), pk=pk, night=night
    )
    try:
        actions.take_back(tally=row, at=timezone.now(), by=request.user)
    except (NightRefused, PostingRefused, CountingRefused) as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{row.good + row.hold + row.scrap} {row.operation} taken back.")
    is_record = request.POST.get("back") == "record"
    return to_night(night, "counting:record" if is_record else "counting:tally")
