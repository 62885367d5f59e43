"""Which places are counted, how far is it, and what came of it?"""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from inventory.places.queries import places_of
from inventory.stocktake import actions, queries
from inventory.stocktake.models import Stocktake
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.cut_off import cut_off_of
from workshops.stock.forms.stocktake import OpenForm
from workshops.stock.results import results_of


@require_GET
@guard(Permission.POST_STOCK)
def stocktakes(request: ShopRequest) -> HttpResponse:
    """Every stocktake, newest first."""
    page = {"stocktakes": queries.stocktakes_of(request.shop)[:40]}
    return render(request, "stock/stocktakes.html", page)


@require_http_methods(["GET", "POST"])
@guard(Permission.POST_STOCK)
def open_stocktake(request: ShopRequest) -> HttpResponse:
    """The cut-off before anything is counted, then the places."""
    form = OpenForm(request.POST or None, shop=request.shop)
    places = list(places_of(request.shop))
    notices = cut_off_of(request.shop, timezone.now(), {place.pk for place in places})
    if form.is_valid() and (made := _open(request, form)):
        return redirect("stock:stocktake", shop=request.shop.slug, stocktake=made.pk)
    page = {"form": form, "notices": notices, "places": places}
    status = 422 if request.method == "POST" else 200
    return render(request, "stock/open_stocktake.html", page, status=status)


def _open(request: ShopRequest, form: OpenForm) -> Stocktake | None:
    given, now = form.cleaned_data, timezone.now()
    counted = {place.pk for place in given["places"]}
    rows = [notice.as_row() for notice in cut_off_of(request.shop, now, counted)]
    try:
        return actions.open_stocktake(
            shop=request.shop, name=given["name"], places=list(given["places"]),
            note=given["note"], cut_off=rows, by=request.user, at=now,
        )  # fmt: skip
    except actions.StocktakeRefused as refused:
        form.add_error(None, str(refused))
        return None


@require_GET
@guard(Permission.POST_STOCK)
def stocktake(request: ShopRequest, stocktake: int) -> HttpResponse:
    """How far each place has come; what came of it, for ever after."""
    found = find(request, stocktake)
    sheets = queries.progress_of(found)
    counted = {row.sheet.place_id for row in sheets}
    page = {
        "stocktake": found,
        "sheets": sheets,
        "results": results_of(sheets),
        "late": queries.late_of(found),
        "notices": [] if found.closed_at else cut_off_of(request.shop, timezone.now(), counted),
    }
    return render(request, "stock/stocktake.html", page)


@require_POST
@guard(Permission.EDIT_STOCK)
def close_stocktake(request: ShopRequest, stocktake: int) -> HttpResponse:
    """End it; what is not posted leaves the book as it is."""
    found = find(request, stocktake)
    actions.close_stocktake(stocktake=found, by=request.user, at=timezone.now())
    messages.success(request, f"{found} is closed. What was not posted left the book as it was.")
    return redirect("stock:stocktake", shop=request.shop.slug, stocktake=stocktake)


@require_POST
@guard(Permission.POST_STOCK)
def settle_late(request: ShopRequest, stocktake: int) -> HttpResponse:
    """Make the posted counts true again after something was typed in late."""
    found = find(request, stocktake)
    try:
        entries = actions.settle_late(stocktake=found, by=request.user)
    except actions.StocktakeRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{len(entries)} put right: the counts stand again.")
    return redirect("stock:stocktake", shop=request.shop.slug, stocktake=stocktake)


def find(request: ShopRequest, pk: int) -> Stocktake:
    """The stocktake of this shop, or not found."""
    found = queries.stocktake_of(request.shop, pk)
    if found is None:
        raise Http404("There is no such stocktake in this shop.")
    return found
