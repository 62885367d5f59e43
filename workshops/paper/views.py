"""The papers: make them, fetch them, print them."""

from __future__ import annotations

from datetime import date

from django.http import FileResponse, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.common.jobs import start
from workshops.nights.models import Night
from workshops.nights.queries import next_night, night_on
from workshops.paper import queries
from workshops.paper.models import Paper


@guard(Permission.MAKE_PAPER)
def papers(request: ShopRequest) -> HttpResponse:
    """What can be printed for tonight, and what was made before."""
    context = {
        "night": _night(request),
        "papers": list(queries.papers_of(request.shop)[:30]),
    }
    return render(request, "paper/list.html", context)


def _night(request: ShopRequest) -> Night | None:
    """The night asked for, else tonight's or the next."""
    try:
        asked = date.fromisoformat(request.GET.get("night", ""))
    except ValueError:
        return next_night(request.shop, timezone.now())
    return night_on(request.shop, asked)


@require_POST
@guard(Permission.MAKE_PAPER)
def cards(request: ShopRequest) -> HttpResponse:
    """Make the station cards of a night: a job, with its page."""
    night = get_object_or_404(Night, pk=request.POST.get("night") or 0, shop=request.shop)
    job = start("make_cards", shop=request.shop, by=request.user, night=night.pk)
    return redirect("common:job", shop=request.shop.slug, pk=job.pk)


@guard(Permission.MAKE_PAPER)
def file(request: ShopRequest, pk: int) -> HttpResponseBase:
    """One paper, to look at or print."""
    paper = get_object_or_404(Paper, pk=pk, shop=request.shop)
    return FileResponse(paper.file.open("rb"), filename=paper.file.name.rpartition("/")[2])
