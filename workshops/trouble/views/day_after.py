"""The day after: who is rung, and who worked where, as a doctor may ask for it."""

from __future__ import annotations

import uuid
from datetime import date

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_GET, require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.models import Night
from workshops.people.actions import look_at
from workshops.people.models import Look
from workshops.trouble.actions import TroubleRefused, ask_day_after
from workshops.trouble.exposure import Exposed, person_of, to_ask, worked_where


@cache_control(no_store=True)
@guard(Permission.SEE_PRIVATE)
def day_after(request: ShopRequest, on: date) -> HttpResponse:
    """Who welded or handled straw, to be rung; sent, one answer is written down."""
    night = night_or_404(request.shop, on)
    people = to_ask(night)
    if request.method == "POST":
        _answered(request, night, people)
        return to_night(night, "trouble:day_after")
    page = {"night": night, "people": [(each, uuid.uuid4()) for each in people]}
    return render(request, "trouble/day_after.html", page)


def _answered(request: ShopRequest, night: Night, people: list[Exposed]) -> None:
    given = request.POST
    asked = next((each for each in people if str(each.person) == given.get("person")), None)
    person = person_of(night, asked.person) if asked else None
    try:
        if asked is None or person is None:
            raise TroubleRefused("Choose somebody from the list.")
        row = ask_day_after(
            night=night, person=person, answer=given.get("answer", ""), told=asked.told,
            words=given.get("words", ""), at=timezone.now(),
            asked_by=request.user.signs_as,
            client_key=uuid.UUID(given.get("client_key", "")),
        )  # fmt: skip
    except ValueError as refused:
        messages.error(request, f"Nothing was written down. {refused}")
        return
    said = f"{asked.name}: {row.get_answer_display()}."
    messages.warning(request, f"{said} {row.told}") if row.told else messages.success(request, said)


@require_POST
@guard(Permission.SEE_PRIVATE)
def phone(request: ShopRequest, on: date, person: int) -> HttpResponse:
    """The number to ring, for one press; it is written down who looked."""
    night = night_or_404(request.shop, on)
    who = person_of(night, person)
    if who is None:
        raise Http404("Nobody of that night's list.")
    look_at([who], what=(Look.Kept.PHONE,), page="the day after a night", by=request.user)
    page = {"night": night, "who": who}
    return render(request, "trouble/_phone.html" if request.htmx else "trouble/phone.html", page)


@require_GET
@cache_control(no_store=True)
@guard(Permission.SEE_PRIVATE)
def worked(request: ShopRequest, on: date) -> HttpResponse:
    """Who worked where, from when to when; prints for a doctor who asks."""
    night = night_or_404(request.shop, on)
    return render(request, "trouble/worked.html", {"night": night, "rows": worked_where(night)})
