"""What moved, when, and who wrote it?"""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from inventory.ledger import actions, queries
from inventory.ledger.models import Entry
from inventory.places.queries import places_of
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.forms.take_back import TakeBackForm
from workshops.stock.pacing import leaf_before
from workshops.stock.telling import told


@require_GET
@guard(Permission.SEE_STOCK)
def movements(request: ShopRequest) -> HttpResponse:
    """Everything that moved, newest first; of one place or one night when it is given."""
    places = list(places_of(request.shop))
    chosen = next((p for p in places if str(p.pk) == request.GET.get("place")), None)
    night = request.GET.get("night", "")
    lines = queries.movements(request.shop, place=chosen, night_key=night)
    page = {
        "moves": leaf_before(lines, request.GET.get("before", "")),
        "places": places,
        "chosen": chosen,
        "night": night,
    }
    template = "stock/_movements.html" if request.htmx else "stock/movements.html"
    return render(request, template, page)


@require_GET
@guard(Permission.SEE_STOCK)
def entry(request: ShopRequest, pk: int) -> HttpResponse:
    """One entry with all its lines, and the way to take it back."""
    shown = _entry(request, pk)
    page = {"entry": shown, "lines": told(shown), "form": TakeBackForm()}
    return render(request, "stock/entry.html", page)


@require_POST
@guard(Permission.POST_STOCK)
def take_back(request: ShopRequest, pk: int) -> HttpResponse:
    """Post the mirror image of an entry, with the reason."""
    shown, form = _entry(request, pk), TakeBackForm(request.POST)
    if form.is_valid() and _take_back(request, shown, form):
        return redirect("stock:entry", shop=request.shop.slug, pk=pk)
    page = {"entry": shown, "lines": told(shown), "form": form}
    return render(request, "stock/entry.html", page, status=422)


def _entry(request: ShopRequest, pk: int) -> Entry:
    found = queries.entry_of(request.shop, pk)
    if found is None:
        raise Http404("There is no such entry in this shop's book.")
    return found


def _take_back(request: ShopRequest, shown: Entry, form: TakeBackForm) -> bool:
    given = form.cleaned_data
    try:
        actions.correct(
            shown,
            reason=given["reason"],
            by=request.user,
            at=timezone.now(),
            client_key=given["key"],
        )
    except actions.PostingRefused as refused:
        form.add_error(None, str(refused))
        return False
    messages.success(request, "Taken back: its mirror image is in the book.")
    return True
