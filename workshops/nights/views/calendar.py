"""The nights of the winter, and who means to come."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights import actions, queries
from workshops.nights.forms import ComingForm, NightForm, ReasonForm
from workshops.nights.refusals import NightRefused
from workshops.nights.views.finding import night_or_404, to_night


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


@guard(Permission.RUN_NIGHT)
def coming(request: ShopRequest, on: date) -> HttpResponse:
    """Note who comes, and from when to when."""
    night = night_or_404(request, on)
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
    night, form = night_or_404(request, on), ReasonForm(request.POST)
    try:
        actions.cancel_night(night=night, reason=form.data.get("reason", ""))
    except NightRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"The night of {night} is cancelled. Tell those who signed up.")
    return to_night(night)
