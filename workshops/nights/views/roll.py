"""The roll: who is in the building, in and out with one tap each."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.keeping import keep_offline
from workshops.club.queries import rules_of
from workshops.nights import actions, queries
from workshops.nights.door import collecting_caution
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.forms_roll import DoorForm, WalkInForm
from workshops.nights.models import Night, RollLine
from workshops.nights.refusals import NightRefused
from workshops.nights.roll_page import roll_page


@guard(Permission.RUN_NIGHT)
@keep_offline
def roll(request: ShopRequest, on: date) -> HttpResponse:
    """Who is in, who is still to come, who went home; anybody found by name."""
    night = night_or_404(request.shop, on)
    page, query = roll_page(night, timezone.now()), request.GET.get("q", "").strip()
    context = {
        "night": night, "page": page, "query": query, "found": page.found(query),
        "walk_in": WalkInForm(), "now": timezone.now(),
    }  # fmt: skip
    return render(request, "nights/roll.html", context)


@require_POST
@guard(Permission.RUN_NIGHT)
def come_in(request: ShopRequest, on: date) -> HttpResponse:
    """Sign a person in; what to see to first is said at once."""
    night, form = night_or_404(request.shop, on), DoorForm(request.POST, shop=request.shop)
    if not form.is_valid():
        messages.error(request, "Choose who comes in from the list.")
        return to_night(night, "nights:roll")
    try:
        signed = actions.sign_in(night=night, person=form.cleaned_data["person"], at=timezone.now())
    except NightRefused as refused:
        messages.error(request, str(refused))
    else:
        tell_in(request, signed)
    return to_night(night, "nights:roll")


def tell_in(request: ShopRequest, signed: actions.SignedIn) -> None:
    """Say who is in, and what to see to before any work."""
    messages.success(request, f"{_name(signed.line)} is in.")
    for caution in signed.cautions:
        messages.warning(request, caution)


@require_POST
@guard(Permission.RUN_NIGHT)
def go_out(request: ShopRequest, on: date) -> HttpResponse:
    """Sign a person out; a minor only once it is said who takes them home."""
    night, form = night_or_404(request.shop, on), DoorForm(request.POST, shop=request.shop)
    if not form.is_valid():
        messages.error(request, "Choose who goes out from the list.")
        return to_night(night, "nights:roll")
    person, collector = form.cleaned_data["person"], form.collector()
    is_minor = not person.is_adult_on(night.date, rules_of(request.shop).adult_age)
    if is_minor and not collector.is_named:
        messages.error(request, f"Who takes {person.short_name} home? Press “Out” and say who.")
        return to_night(night, "nights:roll")
    try:
        line = actions.sign_out(
            night=night, person=person, at=timezone.now(), collector=collector if is_minor else None
        )
    except NightRefused as refused:
        messages.error(request, str(refused))
    else:
        _tell_out(request, line, is_minor=is_minor)
    return to_night(night, "nights:roll")


def _tell_out(request: ShopRequest, line: RollLine, *, is_minor: bool) -> None:
    messages.success(request, f"{_name(line)} is out. Thank you!")
    if caution := collecting_caution(line, is_minor=is_minor):
        messages.warning(request, caution)


@require_POST
@guard(Permission.RUN_NIGHT)
def take_back(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """Take back a wrong tap at the door."""
    night = night_or_404(request.shop, on)
    line = get_object_or_404(RollLine.objects.select_related("night__shop", "person"), pk=pk,
                             night=night)  # fmt: skip
    name = _name(line)
    try:
        kept = actions.take_back(line=line, at=timezone.now())
    except NightRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{name} is in again." if kept else f"{name} was not here.")
    return to_night(night, "nights:roll")


@require_POST
@guard(Permission.RUN_NIGHT)
def forgotten(request: ShopRequest, on: date) -> HttpResponse:
    """Those ticked went home without a word: out at the stop, guessed."""
    night = night_or_404(request.shop, on)
    people = [line.person for line in queries.in_the_building(night)
              if str(line.person_id) in request.POST.getlist("person")]  # fmt: skip
    try:
        lines = actions.guess_out(night=night, people=people, at=timezone.now())
    except NightRefused as refused:
        messages.error(request, str(refused))
    else:
        count = len(lines)
        messages.success(
            request, f"{count} signed out at the stop, marked as guessed." if count else
            "Nobody was ticked: tick who has gone home.",
        )  # fmt: skip
    return to_night(night, "nights:roll")


def _name(line: RollLine) -> str:
    night: Night = line.night
    return queries.names_in(night.shop)[line.person_id]
