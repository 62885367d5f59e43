"""How warm and how damp are straw and hay, and when does somebody look again?"""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from inventory.readings import queries
from inventory.readings.actions import ReadingRefused, correct_reading, take_reading
from inventory.readings.models import Reading
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stations.guidance.hay import DEFER
from workshops.stock.forms.straw import CorrectForm, ReadingForm
from workshops.stock.straw import StrawWatch, straw_watch, watched

LEAF = 30


@require_GET
@guard(Permission.SEE_STOCK)
def straw(request: ShopRequest) -> HttpResponse:
    """Every lot, the one to go to first on top, the quick entry, and the log below."""
    watch = straw_watch(request.shop, timezone.now())
    before = request.GET.get("before", "")
    chosen = request.GET.get("lot") or (watch.rows[0].lot.key if watch.rows else "")
    form = ReadingForm(
        rows=watch.rows, degrees=watch.rules.temperature_unit, initial={"lot": chosen}
    )
    return _page(request, watch, form, int(before) if before.isdecimal() else None)


@require_POST
@guard(Permission.POST_STOCK)
def take(request: ShopRequest) -> HttpResponse:
    """Note what was probed, and say what to do about it."""
    watch = straw_watch(request.shop, timezone.now())
    form = ReadingForm(request.POST, rows=watch.rows, degrees=watch.rules.temperature_unit)
    if form.is_valid() and _take(request, watch, form):
        return redirect("stock:straw", shop=request.shop.slug)
    return _page(request, watch, form)


@require_http_methods(["GET", "POST"])
@guard(Permission.POST_STOCK)
def correct(request: ShopRequest, pk: int) -> HttpResponse:
    """Put right what was written down wrong; the old line stays in the log."""
    reading = queries.reading_of(request.shop, pk)
    if reading is None:
        raise Http404("There is no such reading in this shop.")
    degrees = reading.temperature_unit
    form = CorrectForm(request.POST or None, degrees=degrees)
    if request.method == "POST" and form.is_valid() and _correct(request, reading, form):
        messages.success(request, "Corrected: both lines stay in the log.")
        return redirect("stock:straw", shop=request.shop.slug)
    page = {"form": form, "reading": reading}
    return render(request, "stock/correct_reading.html", page, status=422 if form.is_bound else 200)


def _page(
    request: ShopRequest, watch: StrawWatch, form: ReadingForm, before: int | None = None
) -> HttpResponse:
    log = list(queries.log_of(request.shop, before)[: LEAF + 1])
    page = {
        "watch": watch, "form": form, "log": log[:LEAF], "defer": DEFER,
        "before": log[LEAF - 1].pk if len(log) > LEAF else None,
    }  # fmt: skip
    return render(request, "stock/straw.html", page, status=422 if form.is_bound else 200)


def _take(request: ShopRequest, watch: StrawWatch, form: ReadingForm) -> bool:
    given, lot = form.cleaned_data, form.chosen()
    try:
        reading = take_reading(
            shop=request.shop,
            item=lot.item,
            place=lot.place,
            lot=given["words"] or lot.words,
            unit=watch.rules.temperature_unit,
            note=given["note"],
            at=given["probed_at"] or timezone.now(),
            by=request.user,
            client_key=given["key"],
            **form.values(),
        )
    except ReadingRefused as refused:
        return _refused(form, refused)
    _say_what_to_do(request, watch, reading)
    return True


def _say_what_to_do(request: ShopRequest, watch: StrawWatch, reading: Reading) -> None:
    alone = queries.Lot(reading.item, reading.place, reading.lot, (reading,))
    row = watched(alone, watch.rules, timezone.now())
    sentences = [row.heat.sentence if row.heat else "", row.damp]
    says = " ".join(sentence for sentence in sentences if sentence) or "Written down."
    (messages.error if row.is_alarm else messages.success)(request, f"{reading.item}: {says}")


def _correct(request: ShopRequest, reading: Reading, form: CorrectForm) -> bool:
    given = form.cleaned_data
    told: dict[str, Any] = {"reason": given["reason"], "client_key": given["key"]}
    told |= {"unit": reading.temperature_unit, **form.values()}
    try:
        correct_reading(reading, by=request.user, **told)
    except ReadingRefused as refused:
        return _refused(form, refused)
    return True


def _refused(form: forms.Form, refused: ReadingRefused) -> bool:
    form.add_error(refused.field if refused.field in form.fields else None, str(refused))
    return False
