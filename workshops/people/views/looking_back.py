"""The register on a past day, what somebody signed, and how long sign-offs count."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.club.queries import rules_of
from workshops.people import actions, history
from workshops.people.forms import LifetimeForm
from workshops.people.lives import lives_of, usual_life
from workshops.people.models import Person
from workshops.people.queries import Show
from workshops.people.views.keeping import WRITES, answer, kept
from workshops.people.views.pages import asked
from workshops.stations.models import Station


@guard(Permission.SEE_PEOPLE)
def then(request: ShopRequest) -> HttpResponse:
    """The register on a past day, as known now or as known then."""
    on, words, _ = asked(request, (Show.ALL,))
    stations = list(Station.objects.filter(shop=request.shop, sign_offs__isnull=False).distinct())
    station = _chosen(request, stations)
    is_then = request.GET.get("known") == "then"
    known = history.end_of(on, request.shop) if is_then else None
    found = history.register_then(
        request.shop, on, known=known, station=station.pk if station else None
    )
    page = {
        "then": found, "on": on, "today": timezone.localdate(), "words": words,
        "stations": stations, "station": station, "is_then": is_then,
        "current": _called(found.current, words), "gone": _called(found.gone, words),
    }  # fmt: skip
    return render(request, "people/then.html", page)


def _chosen(request: ShopRequest, stations: list[Station]) -> Station | None:
    """The station in the address, or the first: one at a time stays readable for 200 people."""
    asked_for = request.GET.get("station", "")
    first = stations[0] if stations else None
    return next((each for each in stations if str(each.pk) == asked_for), first)


def _called(lines: list[history.Held], words: str) -> list[history.Held]:
    wanted = words.casefold().split()
    return [line for line in lines if all(word in line.name.casefold() for word in wanted)]


@guard(Permission.SEE_PEOPLE)
def signed(request: ShopRequest, pk: int) -> HttpResponse:
    """Everything a person signed, to confirm or withdraw line by line."""
    person = get_object_or_404(Person, shop=request.shop, pk=pk)
    today = timezone.localdate()
    lines = history.signed_by(person, today)
    page = {
        "person": person, "today": today,
        "counting": [line for line in lines if line.counts],
        "past": [line for line in lines if not line.counts],
    }  # fmt: skip
    return render(request, "people/signed.html", page)


@guard(Permission.SEE_PEOPLE)
def lives(request: ShopRequest) -> HttpResponse:
    """How long a sign-off counts at each station, and who decided it."""
    rules, today = rules_of(request.shop), timezone.localdate()
    found = lives_of(request.shop, rules, today)
    stations = Station.objects.filter(shop=request.shop, is_in_use=True)
    page = {
        "usual": usual_life(rules, today),
        "lines": [(station, found.at(station.pk), station.pk in found.own) for station in stations],
    }
    return render(request, "people/lives.html", page)


@WRITES
@guard(Permission.EDIT_RULES)
def life(request: ShopRequest, pk: int) -> HttpResponse:
    """Decide how long a sign-off for one station counts."""
    station = get_object_or_404(Station, shop=request.shop, pk=pk)
    form = LifetimeForm(request.POST or None, initial=_as_it_is(station, timezone.localdate()))
    if kept(request, form, lambda fields: actions.set_lifetime(
        station=station, by=request.user, **fields
    )):  # fmt: skip
        messages.success(request, f"{station}: kept.")
        return redirect("people:lives", shop=request.shop.slug)
    heading = f"How long does a sign-off for {station} count?"
    return answer(request, form, heading, "Keep the decision")


def _as_it_is(station: Station, today: date) -> dict[str, Any]:
    found = lives_of(station.shop, rules_of(station.shop), today).own.get(station.pk)
    if found is None:
        return {}
    return {
        "months": found.months, "ends_on": found.ends_on, "unused_months": found.unused_months,
        "decided_by": found.decided_by, "decided_on": found.decided_on, "source": found.source,
    }  # fmt: skip
