"""Counting what was made, the hot-work permit, and closing the night."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_POST

from inventory.ledger.actions import PostingRefused
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.keeping import keep_offline
from workshops.nights import actions, queries
from workshops.nights.clock import moment
from workshops.nights.forms import HandOverForm, PermitForm, TallyForm, WatchEndForm
from workshops.nights.models import HotWorkPermit, Night, Tally
from workshops.nights.refusals import NightRefused
from workshops.nights.standing import stopped_at
from workshops.nights.views.finding import night_or_404, to_night


# Never shown again from the browser's memory: an old page would send its old keys.
@cache_control(no_store=True)
@guard(Permission.RUN_NIGHT)
@keep_offline
def tally(request: ShopRequest, on: date) -> HttpResponse:
    """Count pieces of an operation: each send is one entry in the book."""
    night = night_or_404(request, on)
    form = TallyForm(request.POST or None, shop=request.shop)
    if request.method == "POST":
        if form.is_valid():
            _count(request, night, form.cleaned_data)
            return to_night(night, "nights:tally")
        messages.error(request, f"Nothing was counted. {form.told()}")
    context = {
        "night": night,
        "groups": queries.counts_by_station(night),
        "latest": list(queries.tallies_of(night)[:12]),
    }
    return render(request, "nights/tally.html", context, status=422 if form.errors else 200)


def _count(request: ShopRequest, night: Night, given: dict[str, Any]) -> None:
    key, at = given.pop("client_key"), timezone.now()
    try:
        row = actions.tally(night=night, at=at, by=request.user, client_key=key, **given)
    except (NightRefused, PostingRefused) as refused:
        messages.error(request, str(refused))
        return
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
def undo(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """Take a count back."""
    night = night_or_404(request, on)
    row = get_object_or_404(Tally.objects.select_related("entry", "night"), pk=pk, night=night)
    try:
        actions.undo_tally(tally=row, at=timezone.now(), by=request.user)
    except (NightRefused, PostingRefused) as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{row.good + row.hold + row.scrap} {row.operation} taken back.")
    return to_night(night, "nights:tally")


@guard(Permission.RUN_NIGHT)
def permit(request: ShopRequest, on: date) -> HttpResponse:
    """Open the hot-work permit, or sign the end of its watch."""
    night = night_or_404(request, on)
    row = HotWorkPermit.objects.filter(night=night).select_related("watcher", "night__shop").first()
    form = WatchEndForm(request.POST or None) if row else PermitForm(
        request.POST or None, shop=request.shop
    )  # fmt: skip
    if request.method == "POST" and form.is_valid():
        try:
            _signed(request, night, row, form.cleaned_data)
        except NightRefused as refused:
            form.add_error(None, str(refused))
        else:
            return to_night(night, "nights:permit")
    context = {"night": night, "permit": row, "form": form}
    return render(request, "nights/permit.html", context, status=422 if form.errors else 200)


def _signed(
    request: ShopRequest, night: Night, row: HotWorkPermit | None, given: dict[str, object]
) -> None:
    now, name = timezone.now(), request.user.get_full_name() or request.user.username
    if row is None:
        actions.open_permit(night=night, watcher=given["watcher"], opened_by=name, at=now)  # type: ignore[arg-type]
        return
    actions.end_watch(
        permit=row, last_spark_at=moment(night, given["last_spark"]), at=now,  # type: ignore[arg-type]
        signed_by=str(given["signed_by"]),
    )  # fmt: skip


@guard(Permission.RUN_NIGHT)
def close(request: ShopRequest, on: date) -> HttpResponse:
    """Close the night with a hand-over for the next opener."""
    night, form = night_or_404(request, on), HandOverForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        name = request.user.get_full_name() or request.user.username
        try:
            actions.close_night(
                night=night, words=form.cleaned_data["words"], written_by=name, at=timezone.now()
            )
        except NightRefused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, "The night is closed. Thank you, and good night.")
            return to_night(night)
    counts = [row for row in queries.counts_of(night) if row.is_any]
    context = {"night": night, "form": form, "counts": counts}
    return render(request, "nights/close.html", context, status=422 if form.errors else 200)
