"""The papers: make them, fetch them, print them."""

from __future__ import annotations

from datetime import date
from typing import Any, cast

from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from inventory.stocktake.queries import stocktake_of
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.common.jobs import start
from workshops.nights.models import Night
from workshops.nights.queries import next_night, night_on
from workshops.paper import actions, queries
from workshops.paper.forms import CardsForm
from workshops.paper.models import Paper

LATEST = 30
MOST_LISTS = 40


@require_GET
@guard(Permission.MAKE_PAPER)
def papers(request: ShopRequest) -> HttpResponse:
    """What can be printed for tonight, and what was made before."""
    night = _night(request)
    context = {
        "night": night,
        "cards_form": CardsForm(),
        "cut_lists": queries.cut_lists_for(request.shop, night),
        "outlook": queries.outlook_for(request.shop, timezone.localdate()),
        "papers": list(queries.papers_of(request.shop)[:LATEST]),
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
    night, form = _asked_night(request), CardsForm(request.POST)
    if not form.is_valid():
        raise Http404("There is no such language for the back of a card.")
    return _job(request, "make_cards", night=night.pk, back=form.cleaned_data["back"])


@require_POST
@guard(Permission.MAKE_PAPER)
def cut_list(request: ShopRequest) -> HttpResponse:
    """Print the cut lists of a night, or those chosen: a job, with its page."""
    chosen = [int(key) for key in request.POST.getlist("list") if key.isdecimal()]
    if chosen:
        return _job(request, "print_cut_list", lists=chosen[:MOST_LISTS])
    return _job(request, "print_cut_list", night=_asked_night(request).pk)


@require_POST
@guard(Permission.MAKE_PAPER)
def outlook(request: ShopRequest) -> HttpResponse:
    """Print the latest outlook: a job, with its page."""
    return _job(request, "print_outlook")


@require_POST
@guard(Permission.MAKE_PAPER)
def count_sheets(request: ShopRequest) -> HttpResponse:
    """Print the count sheets of a stocktake: a job, with its page."""
    asked = request.POST.get("stocktake", "")
    found = stocktake_of(request.shop, int(asked) if asked.isdecimal() else 0)
    if found is None:
        raise Http404("There is no such stocktake in this shop.")
    return _job(request, "print_count_sheets", stocktake=found.pk)


@require_POST
@guard(Permission.MAKE_PAPER)
def trouble_sheet(request: ShopRequest) -> HttpResponse:
    """The blank incident sheet; a single page, so it is made while one waits."""
    paper = actions.make_trouble_sheet(shop=request.shop, at=timezone.now())
    return redirect("paper:file", shop=request.shop.slug, pk=paper.pk)


@require_POST
@guard(Permission.MAKE_PAPER)
def permit(request: ShopRequest) -> HttpResponse:
    """The hot-work permit of a night; a single page, so it is made while one waits."""
    paper = actions.make_permit(night=_asked_night(request), at=timezone.now())
    return redirect("paper:file", shop=request.shop.slug, pk=paper.pk)


@require_POST
@guard(Permission.MAKE_PAPER)
def tally_sheet(request: ShopRequest) -> HttpResponse:
    """A tally sheet of a night, numbered; made while one waits."""
    paper = actions.make_tally_sheet(night=_asked_night(request), at=timezone.now())
    return redirect("paper:file", shop=request.shop.slug, pk=paper.pk)


def _asked_night(request: ShopRequest) -> Night:
    asked = request.POST.get("night", "")
    return get_object_or_404(Night, pk=asked if asked.isdecimal() else 0, shop=request.shop)


def _job(request: ShopRequest, kind: str, **arguments: Any) -> HttpResponse:
    job = start(kind, shop=request.shop, by=request.user, **arguments)
    return redirect("common:job", shop=request.shop.slug, pk=job.pk)


@require_GET
@guard(Permission.MAKE_PAPER)
def file(request: ShopRequest, pk: int) -> HttpResponse:
    """One paper, to look at or print."""
    paper = get_object_or_404(Paper, pk=pk, shop=request.shop)
    answer = FileResponse(paper.file.open("rb"), filename=str(paper.file.name).rpartition("/")[2])
    # A streamed answer is an answer too; the stubs know no common name for both.
    return cast(HttpResponse, answer)
