"""The roll: who is in the building."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights import actions, queries
from workshops.nights.coming import coming_to
from workshops.nights.forms import PersonForm
from workshops.nights.models import RollLine
from workshops.nights.refusals import NightRefused
from workshops.nights.views.finding import night_or_404, to_night


@guard(Permission.RUN_NIGHT)
def roll(request: ShopRequest, on: date) -> HttpResponse:
    """Who is in, who is still to come; prints as the evacuation list."""
    night = night_or_404(request, on)
    names = queries.names_in(request.shop)
    coming = [replace(each, short_name=names[each.person_id]) for each in coming_to(night)]
    context = {
        "night": night,
        "inside": [(names[row.person_id], row) for row in queries.in_the_building(night)],
        "expected": [each for each in coming if each.in_at is None and each.answer != "no"],
        "gone": [each for each in coming if each.out_at is not None],
        "form": PersonForm(shop=request.shop),
        "collecting": queries.collecting(night, names),
        "groups": list(queries.groups_of(night)),
    }
    return render(request, "nights/roll.html", context)


@require_POST
@guard(Permission.RUN_NIGHT)
def come_in(request: ShopRequest, on: date) -> HttpResponse:
    """Sign a person in; what to see to first is said at once."""
    night, form = night_or_404(request, on), PersonForm(request.POST, shop=request.shop)
    if not form.is_valid():
        messages.error(request, "Choose who comes in from the list.")
        return to_night(night, "nights:roll")
    try:
        signed = actions.sign_in(night=night, person=form.cleaned_data["person"], at=timezone.now())
    except NightRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{_name(signed.line)} is in.")
        for caution in signed.cautions:
            messages.warning(request, caution)
    return to_night(night, "nights:roll")


@require_POST
@guard(Permission.RUN_NIGHT)
def go_out(request: ShopRequest, on: date) -> HttpResponse:
    """Sign a person out."""
    night, form = night_or_404(request, on), PersonForm(request.POST, shop=request.shop)
    if not form.is_valid():
        messages.error(request, "Choose who goes out from the list.")
        return to_night(night, "nights:roll")
    try:
        line = actions.sign_out(night=night, person=form.cleaned_data["person"], at=timezone.now())
    except NightRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{_name(line)} is out. Thank you!")
    return to_night(night, "nights:roll")


def _name(line: RollLine) -> str:
    return queries.names_in(line.night.shop)[line.person_id]
