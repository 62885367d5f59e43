"""What is private to a person: shown after a press, and the press is written down."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.people import queries
from workshops.people.actions import look_at
from workshops.people.looking import EVERYTHING
from workshops.people.looks import looks_at
from workshops.people.models import Person

LATEST = 50


@require_POST
@guard(Permission.SEE_PRIVATE)
def private(request: ShopRequest, pk: int) -> HttpResponse:
    """Contact, age, limits and note of a person; for htmx the panel alone."""
    row = get_object_or_404(Person, shop=request.shop, pk=pk)
    look_at([row], what=EVERYTHING, page="the page of the person", by=request.user)
    page = queries.person_page(row, timezone.localdate())
    # Why a station is closed to them, told in full: the page itself leaves age and limits out.
    stops = [
        (line.station, reason)
        for line in page.lines for reason in line.answer.reasons if reason.in_public() is not reason
    ]  # fmt: skip
    shown = {"page": page, "stops": stops}
    return render(request, "people/_private.html" if request.htmx else "people/private.html", shown)


@guard(Permission.EDIT_PEOPLE)
def looks(request: ShopRequest, pk: int) -> HttpResponse:
    """Who looked at what is private to a person."""
    row = get_object_or_404(Person, shop=request.shop, pk=pk)
    found = looks_at(row)[:LATEST]
    return render(request, "people/looks.html", {"person": row, "looks": found})
