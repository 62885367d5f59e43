"""When something happened: whom to call for everybody in the building, in one press."""

from __future__ import annotations

from datetime import date

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights import queries
from workshops.nights.finding import night_or_404
from workshops.people.actions import look_at
from workshops.people.models import Look

Kept = Look.Kept
SHOWN = (Kept.PHONE, Kept.EMERGENCY, Kept.LIMITS, Kept.BORN_ON)


@require_POST
@guard(Permission.SEE_PRIVATE)
def contacts(request: ShopRequest, on: date) -> HttpResponse:
    """Emergency contacts and limits of all who are in; one look is written down for each."""
    night = night_or_404(request.shop, on)
    people = [line.person for line in queries.in_the_building(night)]
    look_at(people, what=SHOWN, page="everybody in the building", by=request.user)
    return render(request, "nights/contacts.html", {
        "night": night,
        "people": [(person, person.age_on(night.date)) for person in people],
    })  # fmt: skip
