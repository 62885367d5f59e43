"""Whose sign-off ends soon, who was told, and what the winter loses."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.common.jobs import start
from workshops.training import actions, queries


@require_GET
@guard(Permission.SEE_PEOPLE)
def lapses(request: ShopRequest) -> HttpResponse:
    """What lapses soon, the warnings sent, and the last weighing."""
    weighing = queries.last_weighing(request.shop)
    found = weighing.result if weighing else {}
    losses = [
        each | {"ended": date.fromisoformat(each["ended"])} for each in found.get("losses", [])
    ]
    page = {
        "soon": queries.soon_of(request.shop, timezone.localdate()),
        "warnings": queries.warnings_of(request.shop),
        "weighing": weighing,
        "weighed": found,
        "losses": losses,
        "gain": found.get("if_all", 0) - found.get("sets", 0),
    }
    return render(request, "training/lapses.html", page)


@require_POST
@guard(Permission.SEE_JOBS)
def weigh(request: ShopRequest) -> HttpResponse:
    """Work out what the winter loses: a job, with its page."""
    job = start("weigh_lapses", shop=request.shop, by=request.user)
    return redirect("common:job", shop=request.shop.slug, pk=job.pk)


@require_POST
@guard(Permission.EDIT_PEOPLE)
def warn(request: ShopRequest) -> HttpResponse:
    """Send the warnings that are due now, as the daily command does."""
    rows = actions.warn_lapses(shop=request.shop)
    readers = len({row.sent_to_id for row in rows})
    mute = len({row.sent_to_id for row in rows if not row.has_email})
    if rows:
        messages.success(request, f"{readers} people to warn, {mute} of them by word of mouth.")
    else:
        messages.success(request, "Everybody was told already.")
    return redirect("training:lapses", shop=request.shop.slug)
