"""Pages of jobs, and the gallery of components. Guards stand in ``workshops/urls.py``."""

from __future__ import annotations

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.cache import cache_control
from django_htmx.http import HttpResponseClientRedirect

from inventory.measures.lengths import inches
from inventory.places.models import Shop
from workshops.common import jobs
from workshops.common.icons import ICONS
from workshops.common.models import Job
from workshops.common.offline import worker_script
from workshops.common.pictograms.stations import STATIONS
from workshops.common.pictograms.wear import WEAR
from workshops.common.registry import title_of
from workshops.common.requests import InShop

SHOWN = 40  # jobs on the list


@cache_control(no_cache=True)
def worker(_request: HttpRequest) -> HttpResponse:
    """The script that keeps pages for when the network is down; browsers ask for changes."""
    headers = {"Service-Worker-Allowed": "/"}
    return HttpResponse(worker_script(), content_type="text/javascript", headers=headers)


def job_list(request: InShop) -> HttpResponse:
    """What ran lately, newest first."""
    ours = Job.objects.filter(shop=request.shop)
    jobs.mark_cut_off(ours)
    rows = [(row, title_of(row.kind)) for row in ours.select_related("asked_by")[:SHOWN]]
    return render(request, "common/job_list.html", {"rows": rows})


def job(request: InShop, pk: int) -> HttpResponse:
    """One job: how far it is, and what came out. htmx asks for the fragment every second."""
    jobs.mark_cut_off(Job.objects.filter(pk=pk, shop=request.shop))
    row = get_object_or_404(Job, pk=pk, shop=request.shop)
    # A fragment cannot leave its page by itself; without scripts a button leads on.
    if request.htmx and row.state == Job.State.DONE and row.result.get("next"):
        return HttpResponseClientRedirect(row.result["next"])
    page = {
        "job": row,
        "title": title_of(row.kind),
        "is_unfinished": row.state in jobs.UNFINISHED,
        "can_run_again": row.state in jobs.AGAIN and row.asked_by_id == request.user.pk,
    }
    return render(request, "common/_job.html" if request.htmx else "common/job.html", page)


def job_again(request: InShop, pk: int) -> HttpResponse:
    """POST: run a failed or cut-off job once more; only who asked for it may."""
    row = get_object_or_404(Job, pk=pk, shop=request.shop)
    if row.asked_by_id != request.user.pk:
        raise PermissionDenied("Only who asked for a job can run it again: start a new one.")
    try:
        jobs.again(row)
    except jobs.NotNow as refused:
        messages.warning(request, str(refused))
    return redirect("common:job", shop=request.shop.slug, pk=pk)


class _Example(forms.Form):
    name = forms.CharField(label="Name", help_text="As it is written on the rack.")
    kind = forms.ChoiceField(label="Kind", choices=[("rack", "on the rack"), ("metal", "metal")])
    is_donated = forms.BooleanField(label="Donated", required=False)


@login_required
def gallery(request: HttpRequest) -> HttpResponse:
    """Every component of the face once, with the form showing a refusal."""
    page = {
        "form": _Example({"kind": "metal"}),
        "icons": ICONS,
        "length": inches("62 3/8"),
        "units": Shop(),
        "stations": STATIONS,
        "worn": WEAR,
    }
    return render(request, "common/gallery.html", page)
