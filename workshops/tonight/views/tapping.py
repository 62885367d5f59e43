"""One tap "not coming", what it changed, and taking it back."""

from __future__ import annotations

from datetime import date
from uuid import uuid4

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.refusals import NightRefused
from workshops.tonight import actions
from workshops.tonight.forms import KeyForm, TapForm
from workshops.tonight.models import Tap
from workshops.tonight.plans import changed_by
from workshops.tonight.refusals import TonightRefused


@require_POST
@guard(Permission.RUN_NIGHT)
def not_coming(request: ShopRequest, on: date) -> HttpResponse:
    """Somebody is not coming: place the others anew and show what changed."""
    night, form = night_or_404(request.shop, on), TapForm(request.POST, shop=request.shop)
    if not form.is_valid():
        messages.error(request, "Choose who is not coming from the page.")
        return to_night(night, "tonight:tonight")
    try:
        tap = actions.not_coming(
            night=night, by=request.user, at=timezone.now(), **form.cleaned_data
        )
    except (TonightRefused, NightRefused) as refused:
        messages.error(request, str(refused))
        return to_night(night, "tonight:tonight")
    return to_night(night, "tonight:changed", tap.pk)


@require_POST
@guard(Permission.RUN_NIGHT)
def back(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """They come after all."""
    night, form = night_or_404(request.shop, on), KeyForm(request.POST)
    tap = get_object_or_404(Tap.objects.select_related("night__shop", "shop"), pk=pk, night=night)
    key = form.cleaned_data["client_key"] if form.is_valid() else uuid4()
    try:
        row = actions.comes_after_all(tap=tap, by=request.user, at=timezone.now(), client_key=key)
    except (TonightRefused, NightRefused) as refused:
        messages.error(request, str(refused))
        return to_night(night, "tonight:changed", tap.pk)
    return to_night(night, "tonight:changed", row.pk)


@require_GET
@guard(Permission.RUN_NIGHT)
def changed(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """What one tap changed, and nothing else."""
    night = night_or_404(request.shop, on)
    rows = Tap.objects.select_related("night", "shop", "run", "run_before", "undone_by")
    tap = get_object_or_404(rows, pk=pk, night=night)
    page = {"night": night, "changed": changed_by(tap), "key": uuid4()}
    return render(request, "tonight/changed.html", page)
