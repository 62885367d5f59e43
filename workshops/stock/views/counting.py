"""What lies in a place, counted; the differences are shown before they are written."""

from __future__ import annotations

from decimal import Decimal
from hashlib import sha256

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from inventory.ledger import actions
from inventory.ledger.queries import balances_at
from inventory.places.models import Place
from inventory.places.queries import places_of
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.forms.counting import CountForm

Differences = list[tuple[actions.Counted, Decimal]]


@require_GET
@guard(Permission.POST_STOCK)
def places(request: ShopRequest) -> HttpResponse:
    """Which place is counted?"""
    return render(request, "stock/places.html", {"places": places_of(request.shop)})


@require_http_methods(["GET", "POST"])
@guard(Permission.POST_STOCK)
def count_place(request: ShopRequest, place: int) -> HttpResponse:
    """Boxes without the book's numbers; then the differences; then the posting."""
    shown = _place(request, place)
    form = CountForm(request.POST or None, shop=request.shop, lying=balances_at(shown))
    page = {"place": shown, "form": form}
    if request.method == "GET":
        return render(request, "stock/count.html", page)
    found = _differences(shown, form)
    if found is None:
        return render(request, "stock/count.html", page, status=422)
    if "post" in request.POST and form.cleaned_data["seen"] == _mark(found):
        _write(request, shown, form)
        return redirect("stock:count", shop=request.shop.slug)
    # What moved since the differences were shown is shown before anything is written.
    page |= {"differences": found, "mark": _mark(found), "has_moved": "post" in request.POST}
    return render(request, "stock/count.html", page)


def _place(request: ShopRequest, pk: int) -> Place:
    found = places_of(request.shop).filter(pk=pk).first()
    if found is None:
        raise Http404("There is no such place in this shop.")
    return found


def _differences(place: Place, form: CountForm) -> Differences | None:
    """What differs from the book; ``None`` when the form is wrong, which it then says."""
    if not form.is_valid():
        return None
    try:
        return actions.differences(place, form.counted())
    except actions.PostingRefused as refused:
        form.add_error(None, str(refused))
        return None


def _mark(found: Differences) -> str:
    """A short mark of the differences, to notice when the book moved in between."""
    said = [f"{row.item.pk} {row.length_um} {row.condition} {more:f}" for row, more in found]
    return sha256("\n".join(sorted(said)).encode()).hexdigest()[:16]


def _write(request: ShopRequest, place: Place, form: CountForm) -> None:
    entry = actions.count(
        shop=request.shop,
        place=place,
        counted=form.counted(),
        by=request.user,
        at=timezone.now(),
        reason=form.cleaned_data["reason"],
        client_key=form.cleaned_data["key"],
    )
    if entry is None:
        messages.success(request, f"{place} agrees with the book.")
    else:
        messages.success(request, f"{place} is counted; the differences are in the book.")
