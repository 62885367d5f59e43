"""Something happened: told in a minute, with the station closed at once."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.roles import permissions_of
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.models import Night
from workshops.nights.queries import in_the_building, names_in
from workshops.people.models import Person
from workshops.stations.actions import StationsRefused
from workshops.stations.models import StationStop
from workshops.trouble import queries
from workshops.trouble.actions import Told, TroubleRefused, leads_of, reopen, report
from workshops.trouble.forms import ReopenForm, ReportForm


# Never shown again from the browser's memory: an old page would send its old key.
@cache_control(no_store=True)
@guard(Permission.SEE_NIGHTS)
def night(request: ShopRequest, on: date) -> HttpResponse:
    """The report, big enough for a cold thumb; below, for leads, what is closed and what was."""
    row, may = night_or_404(request.shop, on), permissions_of(request.member.role)
    runs = Permission.RUN_NIGHT in may
    form = ReportForm(request.POST or None, shop=request.shop, runs=runs)
    if request.method == "POST" and form.is_valid():
        done = _reported(request, row, form, runs=runs)
        if done is not None:
            return done
    page: dict[str, Any] = {"night": row, "form": form, "runs": runs}
    if runs:
        page |= _for_leads(request, row)
        page["troubles"] = queries.troubles_on(row, may)
    return render(request, "trouble/night.html", page, status=422 if form.errors else 200)


def _reported(
    request: ShopRequest, row: Night, form: ReportForm, *, runs: bool
) -> HttpResponse | None:
    name = request.user.signs_as
    try:
        told = report(night=row, told=form.report(name), by=request.user, at=timezone.now())
    except (TroubleRefused, StationsRefused) as refused:
        form.add_error(None, str(refused))
        return None
    _say(request, told)
    if runs:
        return redirect("trouble:one", shop=request.shop.slug, pk=told.trouble.pk)
    return to_night(row, "trouble:night")


def _say(request: ShopRequest, told: Told) -> None:
    stop = told.trouble.stop
    if stop is None:
        messages.success(request, "Written down. Tell the duty lead as well.")
        return
    names = names_in(request.shop)
    out = dict.fromkeys(names[placing.person_id] for placing in told.taken_out)
    said = f"Written down. {stop.station} is closed for every plan"
    said += f", and {', '.join(out)} stand there no more: give them another place." if out else "."
    messages.warning(request, said)


def _for_leads(request: ShopRequest, row: Night) -> dict[str, Any]:
    names = names_in(request.shop)
    inside = [(line.person_id, names[line.person_id]) for line in in_the_building(row)]
    now = timezone.now()
    stops = [
        (stop, [(pk, names[pk]) for pk in leads_of(stop.station, now)])
        for stop in queries.closed_stations(row)
    ]
    return {"inside": inside, "stops": stops}


@require_POST
@guard(Permission.RUN_NIGHT)
def open_again(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """A named lead reopens a station, with a reason."""
    row = night_or_404(request.shop, on)
    stop = get_object_or_404(
        StationStop.objects.select_related("station__shop"), shop=request.shop, pk=pk
    )
    form = ReopenForm(request.POST, shop=request.shop)
    if not form.is_valid():
        messages.error(request, f"{stop.station} stays closed. Say who looked at it, and what for.")
        return to_night(row, "trouble:night")
    lead: Person | None = form.cleaned_data["lead"]
    try:
        reopen(
            stop=stop, lead=lead, why=form.cleaned_data["why"], by=request.user, at=timezone.now()
        )
    except (TroubleRefused, StationsRefused) as refused:
        messages.error(request, f"{stop.station} stays closed. {refused}")
    else:
        messages.success(request, f"{stop.station} is open again. Place people there anew.")
    return to_night(row, "trouble:night")
