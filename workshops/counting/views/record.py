"""What was counted all night, and pieces that were counted as the wrong thing."""

from __future__ import annotations

from datetime import date
from typing import Any
from uuid import uuid4

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone

from inventory.ledger.actions import PostingRefused
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.counting import actions, queries
from workshops.counting.forms import KINDS, MendForm
from workshops.counting.refusals import CountingRefused
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.models import Night
from workshops.nights.refusals import NightRefused


@guard(Permission.RUN_NIGHT)
def record(request: ShopRequest, on: date) -> HttpResponse:
    """Every count of the night, also those taken back or mended, and what the sheets said."""
    night = night_or_404(request.shop, on)
    context = {
        "night": night,
        "rows": list(queries.history_of(night)),
        "mendings": list(queries.mendings_of(night)),
        "sheets": queries.sheets_of(night),
        "not_booked": queries.not_booked(night),
    }
    return render(request, "counting/record.html", context)


@guard(Permission.RUN_NIGHT)
def mend(request: ShopRequest, on: date) -> HttpResponse:
    """Sixty heads counted as posts: one send moves them, and both stand in the record."""
    night = night_or_404(request.shop, on)
    asked = {name: request.GET.get(name) for name in ("counted_as", "was", *KINDS)}
    form = MendForm(
        request.POST or None, shop=request.shop, initial=asked | {"client_key": uuid4()}
    )
    if request.method == "POST" and form.is_valid() and _mended(request, night, form):
        return to_night(night, "counting:record")
    context = {"night": night, "form": form, "totals": _totals(request, night)}
    return render(request, "counting/mend.html", context, status=422 if form.errors else 200)


def _totals(request: ShopRequest, night: Night) -> list[tuple[str, list[int]]]:
    totals = queries.totals_of(night)
    names = queries.names_of(request.shop, totals)
    return [(names[pk], three) for pk, three in totals.items()]


def _mended(request: ShopRequest, night: Night, form: MendForm) -> bool:
    given: dict[str, Any] = dict(form.cleaned_data)
    key, reason = given.pop("client_key"), given.pop("reason")
    try:
        row = actions.mend(
            night=night, wrong=actions.Wrong(**given), reason=reason, by=request.user,
            at=timezone.now(), client_key=key,
        )  # fmt: skip
    except (CountingRefused, NightRefused, PostingRefused) as refused:
        form.add_error(None, str(refused))
        return False
    messages.success(request, f"Mended: {row}. Both counts stand in the record.")
    return True
