"""Can we run tonight: the stations, what a gap costs, and the night without a spark."""

from __future__ import annotations

from datetime import date

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights.finding import night_or_404
from workshops.people.actions import look_at
from workshops.people.models import Look, Person
from workshops.tonight import queries
from workshops.tonight.costs import cold_plan, cost_of
from workshops.tonight.queries import Line, Tonight


@require_GET
@guard(Permission.RUN_NIGHT)
def tonight(request: ShopRequest, on: date) -> HttpResponse:
    """Every station open, short or closed, with whom to ask for what is missing."""
    night = night_or_404(request.shop, on)
    found = queries.tonight_of(night, timezone.now())
    page = {"night": night, "tonight": found}
    return render(request, "tonight/tonight.html", page)


@require_GET
@guard(Permission.RUN_NIGHT)
def cost(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """What the gap at one station costs tonight: a fragment, or a page of its own."""
    night, found, line = _gap(request, on, pk)
    page = {"night": night, "line": line, "cost": cost_of(found.floor, line.standing)}
    return render(request, _whole(request, "cost"), page)


@require_GET
@guard(Permission.RUN_NIGHT)
def cold(request: ShopRequest, on: date) -> HttpResponse:
    """What everybody does when no spark may fly: a fragment, or a page of its own."""
    night = night_or_404(request.shop, on)
    found = queries.tonight_of(night, timezone.now())
    page = {"night": night, "cold": cold_plan(found.floor)}
    return render(request, _whole(request, "cold"), page)


@require_POST
@guard(Permission.SEE_PRIVATE)
def phones(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """The telephone numbers of those to ask for one station; each look is written down."""
    night, _, line = _gap(request, on, pk)
    asks = line.gap.asks if line.gap else ()
    people = Person.objects.filter(shop=request.shop).in_bulk([each.person for each in asks])
    look_at(people.values(), what=[Look.Kept.PHONE], page="whom to ask tonight", by=request.user)
    rows = [(each, people[each.person].phone) for each in asks]
    return render(request, "tonight/phones.html", {"night": night, "line": line, "rows": rows})


def _gap(request: ShopRequest, on: date, pk: int) -> tuple[object, Tonight, Line]:
    night = night_or_404(request.shop, on)
    found = queries.tonight_of(night, timezone.now())
    line = next((each for each in found.lines if each.standing.station.pk == pk), None)
    if line is None:
        raise Http404("There is no such station.")
    return night, found, line


def _whole(request: ShopRequest, name: str) -> str:
    return f"tonight/_{name}.html" if request.htmx else f"tonight/{name}.html"
