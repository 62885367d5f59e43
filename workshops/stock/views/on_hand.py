"""What is on hand, and what is short?"""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.shelves import GROUPS, LENGTHS_SHOWN, leaf_of
from workshops.stock.straw import straw_alarms


@require_GET
@guard(Permission.SEE_STOCK)
def on_hand(request: ShopRequest) -> HttpResponse:
    """The stock by group, with search; the shelves alone for htmx."""
    search = request.GET.get("q", "").strip()
    kind = request.GET.get("kind", "")
    page = {
        "leaf": leaf_of(
            request.shop, search=search, kind=kind, number=request.GET.get("page", "1")
        ),
        "groups": GROUPS.items(),
        "search": search,
        "kind": kind if kind in GROUPS else "",
        "lengths_shown": LENGTHS_SHOWN,
    }
    if not request.htmx:
        page["alarms"] = straw_alarms(request.shop, timezone.now())
    template = "stock/_shelves.html" if request.htmx else "stock/on_hand.html"
    return render(request, template, page)
