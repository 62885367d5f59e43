"""The nights of the winter, and who means to come."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights import actions, queries
from workshops.nights.actions.calendar import Added, add_nights
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.forms import ComingForm, NightForm, ReasonForm, RepeatForm
from workshops.nights.refusals import NightRefused
from workshops.nights.repeating import Repeat, days_of

REPEATS = ("first", "weekdays", "every_weeks", "count", "until", "week_starts")


@guard(Permission.SEE_NIGHTS)
def nights(request: ShopRequest) -> HttpResponse:
    """Every night: those to come first."""
    today, rows = timezone.localdate(), list(queries.nights_of(request.shop))
    context = {
        "today": today,
        "ahead": [row for row in rows if row.date >= today],
        "behind": [row for row in reversed(rows) if row.date < today],
    }
    return render(request, "nights/list.html", context)


@guard(Permission.EDIT_NIGHTS)
def add(request: ShopRequest) -> HttpResponse:
    """Put a night on the calendar."""
    form = NightForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            night = actions.add_night(shop=request.shop, **form.cleaned_data)
        except NightRefused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, f"The night of {night} is on the calendar.")
            return to_night(night)
    return render(request, "nights/add.html", {"form": form}, status=422 if form.errors else 200)


@guard(Permission.EDIT_NIGHTS)
def repeat(request: ShopRequest) -> HttpResponse:
    """Put nights on the calendar that repeat."""
    form = RepeatForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            added = _repeated(request, dict(form.cleaned_data))
        except NightRefused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, _told(added))
            return redirect("nights:list", shop=request.shop.slug)
    status = 422 if form.errors else 200
    return render(request, "nights/repeat.html", {"form": form}, status=status)


def _repeated(request: ShopRequest, given: dict[str, Any]) -> Added:
    rule = {name: given.pop(name) for name in REPEATS}
    return add_nights(shop=request.shop, days=days_of(Repeat(**rule)), **given)


def _told(added: Added) -> str:
    count, had = len(added.nights), len(added.taken)
    said = f"{count} night{'s' * (count != 1)} put on the calendar."
    return said + (f" {had} of the days had one already and kept it." if had else "")


@guard(Permission.RUN_NIGHT)
def coming(request: ShopRequest, on: date) -> HttpResponse:
    """Note who comes, and from when to when."""
    night = night_or_404(request.shop, on)
    form = ComingForm(request.POST or None, shop=request.shop)
    if request.method == "POST" and form.is_valid():
        try:
            row = actions.sign_up(night=night, at=timezone.now(), **form.cleaned_data)
        except NightRefused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, f"{row.person}: {row.get_answer_display()}.")
            return to_night(night, fragment="#coming")
    context = {"form": form, "night": night}
    return render(request, "nights/coming.html", context, status=422 if form.errors else 200)


@require_POST
@guard(Permission.EDIT_NIGHTS)
def cancel(request: ShopRequest, on: date) -> HttpResponse:
    """Cancel a night and say why."""
    night, form = night_or_404(request.shop, on), ReasonForm(request.POST)
    try:
        actions.cancel_night(night=night, reason=form.data.get("reason", ""))
    except NightRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"The night of {night} is cancelled. Tell those who signed up.")
    return to_night(night)
