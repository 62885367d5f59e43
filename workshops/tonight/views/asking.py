"""One tap: I asked them; and what they said."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.queries import names_in
from workshops.nights.refusals import NightRefused
from workshops.tonight import actions
from workshops.tonight.forms import AskForm, ReplyForm
from workshops.tonight.models import Ask
from workshops.tonight.refusals import TonightRefused


@require_POST
@guard(Permission.RUN_NIGHT)
def asked(request: ShopRequest, on: date) -> HttpResponse:
    """Note that somebody was asked."""
    night, form = night_or_404(request.shop, on), AskForm(request.POST, shop=request.shop)
    if not form.is_valid():
        messages.error(request, "Choose whom you asked from the page.")
        return to_night(night, "tonight:tonight")
    try:
        row = actions.ask(night=night, by=request.user, at=timezone.now(), **form.cleaned_data)
    except TonightRefused as refused:
        messages.error(request, str(refused))
        return to_night(night, "tonight:tonight")
    return to_night(night, "tonight:tonight", fragment=f"#gap-{row.station_id}")


@require_POST
@guard(Permission.RUN_NIGHT)
def replied(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """Note what they said."""
    night, form = night_or_404(request.shop, on), ReplyForm(request.POST)
    row = get_object_or_404(Ask, pk=pk, night=night)
    name = names_in(request.shop)[row.person_id]
    try:
        said = form.data.get("reply", "")
        row = actions.reply(ask=row, reply=said, at=timezone.now())
    except (TonightRefused, NightRefused) as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{name}: {row.get_reply_display()}.")
    return to_night(night, "tonight:tonight", fragment=f"#gap-{row.station_id}")
