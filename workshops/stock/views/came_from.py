"""Which deliveries did the pieces on the shelves come from?"""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from inventory.ledger.origins import origins_of
from inventory.materials.queries import items_of
from workshops.access.guards import Permission, ShopRequest, guard

SHOWN = 20  # batches: older ones are counted and not listed
SHOWN_BESIDE = 5  # on the item's own page, which asks other things as well


@require_GET
@guard(Permission.SEE_STOCK)
def came_from(request: ShopRequest, item: str) -> HttpResponse:
    """The batches that are there now with their deliveries; the list alone for htmx."""
    shown = items_of(request.shop).filter(slug=item).first()
    if shown is None:
        raise Http404("There is no such item in this shop.")
    found = origins_of(shown, SHOWN_BESIDE if request.htmx else SHOWN)
    page = {"item": shown, "batches": found.batches, "more": found.more}
    page["is_part"] = bool(request.htmx)
    template = "stock/_batches.html" if request.htmx else "stock/came_from.html"
    return render(request, template, page)
