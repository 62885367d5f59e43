"""The hot-work permit: its points, the last spark, the watch, and what was signed."""

from __future__ import annotations

import uuid
from datetime import date, datetime, time, timedelta
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.keeping import keep_offline
from workshops.nights import actions
from workshops.nights.clock import moment
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.forms_permit import (
    AskForm,
    PermitForm,
    PointsForm,
    SignForm,
    SparkForm,
    TurnForm,
)
from workshops.nights.models import HotWorkPermit, Night
from workshops.nights.permit.models import PermitPoint
from workshops.nights.permit.points import points_of
from workshops.nights.permit.queries import hot_work_of
from workshops.nights.queries import in_the_building
from workshops.nights.refusals import NightRefused

PAGE = "nights:permit"


# Never shown again from the browser's memory: an old page would send its old key.
@cache_control(no_store=True)
@guard(Permission.RUN_NIGHT)
@keep_offline
def permit(request: ShopRequest, on: date) -> HttpResponse:
    """What must be looked at, who watches, when the last spark is; POST opens the permit."""
    night = night_or_404(request.shop, on)
    form = PermitForm(request.POST or None, shop=request.shop, initial=_usual(request))
    if request.method == "POST" and form.is_valid():
        try:
            actions.open_permit(
                night=night, watcher=form.cleaned_data["watcher"], opened_by=request.user.signs_as,
                at=timezone.now(), terms=form.terms(),
            )  # fmt: skip
        except NightRefused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, "The permit is open, for tonight alone.")
            return to_night(night, PAGE)
    page = _shown(request, night) | {"form": form}
    return render(request, "nights/permit.html", page, status=422 if form.errors else 200)


def _usual(request: ShopRequest) -> dict[str, str]:
    return {"allowed_by": request.user.signs_as, "key_with": request.user.signs_as}


def _shown(request: ShopRequest, night: Night) -> dict[str, Any]:
    now, found = timezone.now(), hot_work_of(night)
    # Only those who are here can be named without typing; any name may be typed.
    here = [line.person.short_name for line in in_the_building(night)] if found.permit else []
    return {
        "night": night, "hot": found, "no_arc": found.why_no_arc(now), "now": now,
        "client_key": uuid.uuid4(), "here": here, "me": request.user.signs_as,
        "turn_form": TurnForm(shop=request.shop),
        "hot_stations": SparkForm(shop=request.shop).fields["station"].queryset,  # type: ignore[attr-defined]
        "own_points": PermitPoint.objects.filter(shop=request.shop, is_in_use=True),
    }  # fmt: skip


@require_POST
@guard(Permission.RUN_NIGHT)
def points(request: ShopRequest, on: date) -> HttpResponse:
    """Answer some points by one name."""
    night = night_or_404(request.shop, on)
    form = PointsForm(request.POST, points=points_of(request.shop))
    if not _is_filled(request, form):
        return to_night(night, PAGE)
    try:
        rows = actions.answer_points(
            night=night, answers=form.answers(), checked_by=form.cleaned_data["checked_by"],
            at=timezone.now(),
        )  # fmt: skip
    except NightRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{len(rows)} answered by {form.cleaned_data['checked_by']}.")
    return to_night(night, PAGE)


@require_POST
@guard(Permission.RUN_NIGHT)
def spark(request: ShopRequest, on: date) -> HttpResponse:
    """The last spark is struck, or one flew after it."""
    night, form = night_or_404(request.shop, on), SparkForm(request.POST, shop=request.shop)
    if not _is_filled(request, form):
        return to_night(night, PAGE)
    given, now = form.cleaned_data, timezone.now()
    try:
        told = actions.tell_spark(
            night=night, station=given["station"], struck_by=given["struck_by"],
            spark_at=told_moment(night, form.told_at(), now), at=now, told_by=request.user.signs_as,
            client_key=given["client_key"],
        )  # fmt: skip
    except NightRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.warning(request, told.says)
    return to_night(night, PAGE)


def told_moment(night: Night, at: time | None, now: datetime) -> datetime:
    """The moment a time of the clock means: after midnight it is the next day's."""
    if at is None:
        return now
    found = moment(night, at)
    is_past_midnight = at < night.doors and now.astimezone(night.shop.zone).date() > night.date
    return found + timedelta(days=1) if is_past_midnight else found


@require_POST
@guard(Permission.RUN_NIGHT)
def turn(request: ShopRequest, on: date) -> HttpResponse:
    """Somebody takes the watch over."""
    night, form = night_or_404(request.shop, on), TurnForm(request.POST, shop=request.shop)
    row = _permit_of(request, night)
    if row is not None and _is_filled(request, form):
        try:
            made = actions.take_watch(
                permit=row, watcher=form.cleaned_data["watcher"], at=timezone.now()
            )
        except NightRefused as refused:
            messages.error(request, str(refused))
        else:
            messages.success(request, f"{made.person} keeps the fire watch from now on.")
    return to_night(night, PAGE)


@require_POST
@guard(Permission.RUN_NIGHT)
def sign(request: ShopRequest, on: date) -> HttpResponse:
    """Sign a round, the end of the watch, or the second look."""
    night, form = night_or_404(request.shop, on), SignForm(request.POST)
    row = _permit_of(request, night)
    if row is not None and _is_filled(request, form):
        try:
            said = _signed(row, form.cleaned_data)
        except NightRefused as refused:
            messages.error(request, str(refused))
        else:
            messages.success(request, said)
    return to_night(night, PAGE)


def _permit_of(request: ShopRequest, night: Night) -> HotWorkPermit | None:
    row = HotWorkPermit.objects.filter(night=night).select_related("night").first()
    if row is None:
        messages.error(request, "No permit is open tonight. Open it first.")
    return row


def _signed(row: HotWorkPermit, given: dict[str, str]) -> str:
    now, name = timezone.now(), given["signed_by"]
    if given["what"] == "round":
        actions.note_round(permit=row, at=now, signed_by=name, words=given["words"])
        return f"Round by {name} written down."
    if given["what"] == "end":
        actions.end_watch(permit=row, at=now, signed_by=name)
        return f"The end of the watch is signed by {name}."
    actions.look_again(permit=row, at=now, signed_by=name)
    return f"The second look is signed by {name}."


@require_POST
@guard(Permission.EDIT_RULES)
def ask_more(request: ShopRequest, on: date) -> HttpResponse:
    """Ask a point of the club's own on every permit, or no more."""
    night, form = night_or_404(request.shop, on), AskForm(request.POST)
    if not _is_filled(request, form):
        return to_night(night, PAGE)
    given = form.cleaned_data
    if given["drop"] is not None:
        point = get_object_or_404(PermitPoint, pk=given["drop"], shop=request.shop)
        actions.drop_point(point=point)
        messages.success(request, "That point is asked no more.")
        return to_night(night, PAGE)
    try:
        actions.add_point(shop=request.shop, words=given["words"], if_no=given["if_no"])
    except NightRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, "That point is asked on every permit from now on.")
    return to_night(night, PAGE)


def _is_filled(request: ShopRequest, form: forms.Form) -> bool:
    if form.is_valid():
        return True
    for name, errors in form.errors.items():
        label = form.fields[name].label if name in form.fields else ""
        messages.error(request, f"{label or name}: {' '.join(map(str, errors))}")
    return False
