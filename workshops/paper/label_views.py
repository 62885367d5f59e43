"""Labels: choose them, and print them as a job."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.common.jobs import start
from workshops.paper.forms import LabelsForm


@require_http_methods(["GET", "POST"])
@guard(Permission.MAKE_PAPER)
def labels(request: ShopRequest) -> HttpResponse:
    """Which labels; a page may propose its own place by ``?what=place&place=3``."""
    proposed = {
        name: request.GET[name] for name in ("what", "place", "size") if name in request.GET
    }
    form = LabelsForm(request.POST or None, initial=proposed, shop=request.shop)
    # Absolute, as this browser reached the site: a mark on a rack is read by any phone.
    site = request.build_absolute_uri("/")
    if form.is_bound and form.is_valid():
        job = start("print_labels", shop=request.shop, by=request.user, site=site, **form.asked())
        return redirect("common:job", shop=request.shop.slug, pk=job.pk)
    page = {"form": form, "site": site, "is_here_only": _is_here_only(request.get_host())}
    return render(request, "paper/labels.html", page, status=422 if form.is_bound else 200)


def _is_here_only(host: str) -> bool:
    """Whether only this very machine understands the address."""
    return host.partition(":")[0] in ("localhost", "127.0.0.1") or host.startswith("[::1]")
