"""Pages of the winter: will we make it, what is wanted, when the ice goes."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.common.jobs import start
from workshops.season import actions, queries
from workshops.season.engine.plan import Outlook
from workshops.season.forms import IceForm, TargetForm, WinterForm
from workshops.season.models import IceOut, OutlookRun
from workshops.season.refusals import WinterRefused
from workshops.season.showing import counted_on, drawn, night_rows, stored, words


@guard(Permission.SEE_SEASON)
def winter(request: ShopRequest) -> HttpResponse:
    """Will we make it? The band, the chances and the slowest station, from the stored outlook."""
    row = queries.winter_of(request.shop, timezone.localdate())
    run = queries.latest_outlook(row) if row else None
    outlook = stored(run) if run else None
    context = {
        "winter": row,
        "progress": queries.progress_of(row) if row else None,
        "run": run,
        "outlook": outlook,
    } | (_shown(run, outlook) if run and outlook else {})
    return render(request, "season/winter.html", context)


def _shown(run: OutlookRun, outlook: Outlook) -> dict[str, Any]:
    return {
        "sentences": words(outlook),
        "counted_on": counted_on(run),
        "night_rows": night_rows(outlook),
        "pictures": {"wide": drawn(outlook), "phone": drawn(outlook, for_phone=True)},
    }


@guard(Permission.SEE_SEASON)
def picture(request: ShopRequest) -> HttpResponse:
    """The band alone, as a picture to send or print."""
    row = queries.winter_of(request.shop, timezone.localdate())
    run = queries.latest_outlook(row) if row else None
    if run is None:
        raise Http404("No outlook was worked out yet.")
    return HttpResponse(drawn(stored(run)), content_type="image/svg+xml")


@require_POST
@guard(Permission.EDIT_SEASON)
def outlook(request: ShopRequest) -> HttpResponse:
    """Work the outlook out anew: a job, with its page."""
    row = queries.winter_of(request.shop, timezone.localdate())
    if row is None:
        return _begin_first(request)
    job = start("outlook", shop=request.shop, by=request.user, winter=row.pk)
    return redirect("common:job", shop=request.shop.slug, pk=job.pk)


@guard(Permission.EDIT_SEASON)
def begin(request: ShopRequest) -> HttpResponse:
    """Begin a winter."""
    form = WinterForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            row = actions.add_winter(shop=request.shop, **form.cleaned_data)
        except WinterRefused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, f"The winter {row.name} has begun. Set its target next.")
            return redirect("season:target", shop=request.shop.slug)
    return render(request, "season/begin.html", {"form": form}, status=422 if form.errors else 200)


@guard(Permission.EDIT_SEASON)
def target(request: ShopRequest) -> HttpResponse:
    """Say how many of each set the winter wants."""
    row = queries.winter_of(request.shop, timezone.localdate())
    if row is None:
        return _begin_first(request)
    progress = queries.progress_of(row)
    initial = queries.wanted_of(row, request.GET.get("item", ""))
    form = TargetForm(request.POST or None, shop=request.shop, initial=initial)
    if request.method == "POST" and form.is_valid():
        given = form.cleaned_data
        wanted = actions.Wanted(given["new"], given["replacements"], given["spares"])
        kept = actions.set_target(winter=row, item=given["item"], wanted=wanted)
        messages.success(request, f"The winter wants {kept}.")
        return redirect("season:target", shop=request.shop.slug)
    context = {"form": form, "winter": row, "progress": progress, "can_change": True}
    return render(request, "season/target.html", context, status=422 if form.errors else 200)


@guard(Permission.EDIT_SEASON)
def ice(request: ShopRequest) -> HttpResponse:
    """Note when the ice went: the ice band of the picture is drawn from these."""
    form = IceForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        row = actions.note_ice_out(shop=request.shop, **form.cleaned_data)
        messages.success(request, f"Noted: {row}.")
        return redirect("season:ice", shop=request.shop.slug)
    rows = list(IceOut.objects.filter(shop=request.shop))
    context = {"form": form, "rows": rows}
    return render(request, "season/ice.html", context, status=422 if form.errors else 200)


def _begin_first(request: ShopRequest) -> HttpResponse:
    messages.info(request, "No winter has begun yet. Begin it here, then set its target.")
    return redirect("season:begin", shop=request.shop.slug)
