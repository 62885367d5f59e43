"""What came in, and from whom?"""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods

from inventory.ledger import actions
from inventory.ledger.making import home_of
from inventory.ledger.queries import latest_goods_in, sources_of
from inventory.ledger.refusals import plain, spelled
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.forms.goods_in import GIVEN, GoodsInForm
from workshops.stock.times import moment_of


@require_http_methods(["GET", "POST"])
@guard(Permission.POST_STOCK)
def goods_in(request: ShopRequest) -> HttpResponse:
    """The form; after each posting it stands ready for the next thing of the delivery."""
    # the length of the item chosen before is no guess at the length of this one
    begun = {name: value for name, value in request.GET.items() if name != "length"}
    form = GoodsInForm(request.POST or None, initial=begun, shop=request.shop)
    if request.method == "POST" and form.is_valid() and _book_in(request, form):
        again = {"source": form.cleaned_data["source"], "came": form.cleaned_data["came"]}
        address = reverse("stock:goods_in", args=[request.shop.slug])
        return redirect(f"{address}?{urlencode(again)}")
    page = {"form": form, "sources": sources_of(request.shop)}
    if request.htmx and request.method == "GET":
        return render(request, "stock/_goods_in_form.html", page)
    page["latest"] = latest_goods_in(request.shop)
    return render(request, "stock/goods_in.html", page, status=422 if form.is_bound else 200)


def _book_in(request: ShopRequest, form: GoodsInForm) -> bool:
    given = form.cleaned_data
    place = given["place"] or home_of(given["item"])
    try:
        actions.goods_in(
            shop=request.shop,
            item=given["item"],
            quantity=given["quantity"],
            place=place,
            length_um=given["length"] or 0,
            source=given["source"],
            is_donated=given["came"] == GIVEN,
            value=given["value"],
            value_basis=given["value_basis"],
            by=request.user,
            at=moment_of(given["on"], request.shop),
            client_key=given["key"],
        )
    except actions.PostingRefused as refused:
        form.add_error(None, str(refused))
        return False
    what = spelled(given["item"], given["length"] or 0)
    messages.success(request, f"Booked in: {plain(given['quantity'])} × {what}, at {place}.")
    return True
