"""A night called off: why, where its people go, who was told, who must be rung."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.roles import permissions_of
from workshops.common.jobs import start
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.models import Night
from workshops.nights.refusals import NightRefused
from workshops.people.actions import look_at
from workshops.people.models import Look
from workshops.tonight import actions, queries
from workshops.tonight.forms import OffForm
from workshops.tonight.models import Told
from workshops.tonight.refusals import TonightRefused


@require_http_methods(["GET", "POST"])
@guard(Permission.RUN_NIGHT)
def off(request: ShopRequest, on: date) -> HttpResponse:
    """Call the night off, or move its people once it is; then whom to tell."""
    night, form = night_or_404(request.shop, on), None
    if night.status != Night.Status.CLOSED:
        form = _form(request, night)
    if request.method == "POST" and form and form.is_valid():
        try:
            _done(request, night, form.cleaned_data)
        except (NightRefused, TonightRefused) as refused:
            form.add_error(None, str(refused))
        else:
            return to_night(night, "tonight:off")
    page = {"night": night, "form": form, "off": queries.off_of(night)}
    status = 422 if form and form.errors else 200
    return render(request, "tonight/off.html", page, status=status)


def _form(request: ShopRequest, night: Night) -> OffForm:
    may_add = Permission.EDIT_NIGHTS in permissions_of(request.member.role)
    today = timezone.localdate()
    return OffForm(request.POST or None, night=night, today=today, may_add=may_add)


def _done(request: ShopRequest, night: Night, given: dict[str, Any]) -> None:
    moved = actions.take_off(
        night=night, reason=given.get("reason", ""), to=given["to"], new_day=given.get("on"),
        by=request.user, at=timezone.now(),
    )  # fmt: skip
    said = f"The night of {night} is off."
    if moved is not None:
        said += f" {moved} {'person' if moved == 1 else 'people'} moved."
    messages.success(request, f"{said} Tell those who meant to come.")


@require_POST
@guard(Permission.RUN_NIGHT)
def tell(request: ShopRequest, on: date) -> HttpResponse:
    """Write to those with an address, and list those to ring: a job."""
    night = night_or_404(request.shop, on)
    job = start("tell_off", shop=request.shop, by=request.user, night=night.pk)
    return HttpResponseRedirect(reverse("common:job", args=[request.shop.slug, job.pk]))


@require_POST
@guard(Permission.RUN_NIGHT)
def rung(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """Somebody was told by mouth."""
    night = night_or_404(request.shop, on)
    row = get_object_or_404(Told, pk=pk, night=night)
    actions.rung(told=row, by=request.user, at=timezone.now())
    return to_night(night, "tonight:off", fragment="#ring")


@require_POST
@guard(Permission.SEE_PRIVATE)
def ring_list(request: ShopRequest, on: date) -> HttpResponse:
    """The telephone numbers of those to ring, for paper; each look is written down."""
    night = night_or_404(request.shop, on)
    people = [row.person for row in queries.told_of(night) if row.told_at is None]
    look_at(people, what=[Look.Kept.PHONE], page="whom to ring: the night is off", by=request.user)
    return render(request, "tonight/ring_list.html", {"night": night, "people": people})


@require_POST
@guard(Permission.RUN_NIGHT)
def training(request: ShopRequest, on: date) -> HttpResponse:
    """Offer the lines of the timetable to the night its people were moved to."""
    night = night_or_404(request.shop, on)
    row = queries.called_off(night)
    if row is None or row.moved_to is None:
        messages.error(request, "Move the people to another night first.")
        return to_night(night, "tonight:off")
    lines, refused = actions.move_training(
        night=night, to=row.moved_to, by=request.user, at=timezone.now()
    )
    if lines:
        messages.success(request, f"{len(lines)} on the timetable of {row.moved_to}.")
    for says in refused:
        messages.error(request, says)
    return to_night(night, "tonight:off")
