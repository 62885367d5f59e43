"""Paper typed in beside the tablets' record, and decided by a person."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from inventory.ledger.actions import PostingRefused
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.counting import actions, queries
from workshops.counting.forms import DecideForm, SheetForm, operations_in
from workshops.counting.models import PaperSheet
from workshops.counting.refusals import CountingRefused
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.models import Night
from workshops.nights.refusals import NightRefused


@guard(Permission.RUN_NIGHT)
def sheets(request: ShopRequest, on: date) -> HttpResponse:
    """Type in a sheet: the page has its layout. Nothing is counted before somebody decides."""
    night = night_or_404(request.shop, on)
    operations = list(operations_in(request.shop))
    asked = {name: request.GET.get(name, "") for name in ("note", "number")}
    form = SheetForm(request.POST or None, operations=operations, initial=asked)
    if request.method == "POST" and form.is_valid():
        sheet = _typed(request, night, form)
        if sheet is not None:
            return to_night(night, "counting:sheet", sheet.number)
    context = {"night": night, "form": form, "sheets": queries.sheets_of(night)}
    return render(request, "counting/sheets.html", context, status=422 if form.errors else 200)


def _typed(request: ShopRequest, night: Night, form: SheetForm) -> PaperSheet | None:
    given = form.cleaned_data
    try:
        return actions.type_in(
            night=night, number=given["number"], counted=form.counted(),
            counted_by=given["counted_by"], note=given["note"], by=request.user,
            at=timezone.now(),
        )  # fmt: skip
    except CountingRefused as refused:
        form.add_error(None, str(refused))
        return None


@guard(Permission.RUN_NIGHT)
def sheet(request: ShopRequest, on: date, number: int) -> HttpResponse:
    """A sheet beside the tablets, line by line, and three choices for each."""
    night = night_or_404(request.shop, on)
    row = queries.sheet_of(request.shop, number)
    if row is None or row.night_id != night.pk:
        raise Http404("No sheet of that number was typed in for this night.")
    lines = [
        (each, DecideForm(request.POST or None, prefix=f"line-{each.line.pk}"))
        for each in queries.beside(row)
    ]
    refused = ""
    if request.method == "POST":
        refused = _decided(request, row, lines)
        if not refused:
            messages.success(request, f"Decided: sheet {number} is settled as you said.")
            return to_night(night, "counting:sheet", number)
    context = {
        "night": night, "sheet": row, "lines": lines, "refused": refused,
        "silent": queries.silent_since(night, timezone.now()),
    }  # fmt: skip
    return render(request, "counting/sheet.html", context, status=422 if refused else 200)


def _decided(
    request: ShopRequest, row: PaperSheet, lines: list[tuple[queries.Beside, DecideForm]]
) -> str:
    """Why it was refused, or nothing."""
    decided = [
        actions.Decided(each.line, form.cleaned_data["decision"], form.cleaned_data["word"])
        for each, form in lines
        if form.is_valid() and form.cleaned_data["decision"]
    ]
    if not decided:
        return "Choose one of the three for at least one line."
    try:
        actions.decide(sheet=row, decided=decided, by=request.user, at=timezone.now())
    except (CountingRefused, NightRefused, PostingRefused) as refused:
        return str(refused)
    return ""
