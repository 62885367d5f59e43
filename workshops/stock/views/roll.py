"""What is left on this roll?"""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from inventory.ledger.actions import PostingRefused
from inventory.materials.models import Item
from inventory.materials.queries import items_of
from inventory.measures.lengths import spell_length
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.forms.roll import RollForm
from workshops.stock.rolls import note_what_is_left
from workshops.stock.shelves import far
from workshops.stock.times import moment_of


@require_http_methods(["GET", "POST"])
@guard(Permission.POST_STOCK)
def roll_left(request: ShopRequest, item: str) -> HttpResponse:
    """Work it out, show what it comes to, and write it when somebody says so."""
    shown = items_of(request.shop).filter(slug=item, kind=Item.Kind.METAL).first()
    if shown is None:
        raise Http404("There is no such material in this shop.")
    form = RollForm(request.POST or None, item=shown, initial={"spot": request.GET.get("spot")})
    is_sound = request.method == "POST" and form.is_valid()
    if is_sound and "write" in request.POST and _write(request, shown, form):
        return redirect("stock:item", shop=request.shop.slug, item=shown.slug)
    page = {"item": shown, "form": form}
    if is_sound and not form.errors:
        left, booked = form.cleaned_data["left"], form.cleaned_data["spot"].length_um
        units = request.shop.length_units
        page |= {"left": far(left, units), "booked": far(booked, units)}
        page |= {"is_more": left > booked, "apart": far(abs(left - booked), units)}
    return render(request, "stock/roll_left.html", page, status=422 if form.errors else 200)


def _write(request: ShopRequest, item: Item, form: RollForm) -> bool:
    given = form.cleaned_data
    try:
        note_what_is_left(
            shop=request.shop,
            spot=given["spot"],
            length_um=given["left"],
            reason=form.told(),
            by=request.user,
            at=moment_of(None, request.shop),
            client_key=given["key"],
        )
    except PostingRefused as refused:
        form.add_error(None, str(refused))
        return False
    left = spell_length(given["left"], request.shop.length_units)
    messages.success(request, f"{item}: {left} are left on it, by the book too.")
    return True
