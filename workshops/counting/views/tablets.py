"""The tablets of a night: what each shared, and one that is lost."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.counting import actions, queries
from workshops.counting.forms import LostForm
from workshops.counting.models import Tablet
from workshops.counting.refusals import CountingRefused
from workshops.nights.finding import night_or_404, to_night


@guard(Permission.RUN_NIGHT)
def tablets(request: ShopRequest, on: date) -> HttpResponse:
    """Which tablets count tonight, up to which tap each has shared, and what is missing."""
    night = night_or_404(request.shop, on)
    context = {"night": night, "tablets": queries.tablets_of(night), "form": LostForm()}
    return render(request, "counting/tablets.html", context)


@require_POST
@guard(Permission.RUN_NIGHT)
def lose(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """Declare a tablet lost; its station is counted again."""
    night, form = night_or_404(request.shop, on), LostForm(request.POST)
    tablet = get_object_or_404(Tablet, pk=pk, shop=request.shop)
    words = form.cleaned_data["words"] if form.is_valid() else ""
    try:
        actions.lose(tablet=tablet, words=words, by=request.user, at=timezone.now())
    except CountingRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{tablet} is lost. Count the pieces of its station again.")
    return to_night(night, "counting:tablets")
