"""The close-out of a night, and the hand-over as the next opener meets it."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.keeping import keep_offline
from workshops.lockup.actions import Words, close_out, count_racks, tick_steps
from workshops.lockup.forms import HandOverForm, ReadForm, StepsForm
from workshops.lockup.queries import close_out_of
from workshops.nights.actions import mark_read
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.models import HandOver
from workshops.nights.queries import counts_of
from workshops.nights.refusals import NightRefused


@guard(Permission.RUN_NIGHT)
@keep_offline
def close(request: ShopRequest, on: date) -> HttpResponse:
    """What is still to do, what is left, and the hand-over that closes the night."""
    night, form = night_or_404(request.shop, on), HandOverForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            given = Words(**form.cleaned_data)
            close_out(night=night, given=given, by=request.user.signs_as, at=timezone.now())
        except NightRefused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, "The night is closed. Thank you, and good night.")
            return to_night(night, "lockup:hand_over")
    page = {
        "night": night, "form": form, "close": close_out_of(night), "me": request.user.signs_as,
        "counts": [row for row in counts_of(night) if row.is_any],
    }  # fmt: skip
    return render(request, "lockup/close.html", page, status=422 if form.errors else 200)


@require_POST
@guard(Permission.RUN_NIGHT)
def steps(request: ShopRequest, on: date) -> HttpResponse:
    """Steps ticked and racks counted, by one name."""
    night = night_or_404(request.shop, on)
    form = StepsForm(request.POST, close=close_out_of(night))
    if not form.is_valid():
        messages.error(request, "Nothing was written down. " + _first(form))
        return to_night(night, "lockup:close")
    name, now = form.cleaned_data["ticked_by"], timezone.now()
    try:
        rows = tick_steps(night=night, ticks=form.ticks(), ticked_by=name, at=now)
        racks = count_racks(night=night, counted=form.counted(), counted_by=name, at=now)
    except NightRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{len(rows)} steps and {len(racks)} racks by {name}.")
    return to_night(night, "lockup:close")


@guard(Permission.SEE_NIGHTS)
def hand_over(request: ShopRequest, on: date) -> HttpResponse:
    """The hand-over of a night on one page, to read and to print."""
    night = night_or_404(request.shop, on)
    row = HandOver.objects.filter(night=night).first()
    page = {"night": night, "row": row, "me": request.user.signs_as}
    return render(request, "lockup/hand_over.html", page)


@require_POST
@guard(Permission.RUN_NIGHT)
def read(request: ShopRequest, on: date) -> HttpResponse:
    """The next opener has read it, by name."""
    night, form = night_or_404(request.shop, on), ReadForm(request.POST)
    row = HandOver.objects.filter(night=night).first()
    if row is None or not form.is_valid():
        messages.error(request, "Who has read it? Write a name.")
    else:
        mark_read(hand_over=row, read_by=form.cleaned_data["read_by"], at=timezone.now())
        messages.success(request, "Marked as read. It stays with its night.")
    return to_night(night, "lockup:hand_over")


def _first(form: StepsForm) -> str:
    name, errors = next(iter(form.errors.items()))
    return f"{form.fields[name].label or name}: {' '.join(map(str, errors))}"
