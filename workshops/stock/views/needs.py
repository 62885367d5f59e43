"""How many complete sets are possible now, what runs out first, what to buy by when?"""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from inventory.materials.queries import sets_of
from inventory.needs import actions
from inventory.needs.queries import NeedsRefused, latest_needs
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.forms.needs import NeedsForm
from workshops.stock.times import today_in
from workshops.stock.wanted import nights_ahead, usual_sets, wanted_sets


@require_GET
@guard(Permission.SEE_STOCK)
def needs(request: ShopRequest) -> HttpResponse:
    """The last answer, and the question to ask again."""
    return _page(request, _form(request))


@require_POST
@guard(Permission.POST_STOCK)
def work_out(request: ShopRequest) -> HttpResponse:
    """Ask again, from what is on hand now, and keep the answer."""
    form = _form(request)
    if form.is_valid() and _work_out(request, form):
        return redirect("stock:needs", shop=request.shop.slug)
    return _page(request, form)


def _form(request: ShopRequest) -> NeedsForm:
    return NeedsForm(
        request.POST or None,
        kinds=sets_of(request.shop),
        wanted=wanted_sets(request.shop, today_in(request.shop)),
        initial={"a_night": usual_sets(request.shop)},
    )


def _page(request: ShopRequest, form: NeedsForm) -> HttpResponse:
    page = {"form": form, "needs": latest_needs(request.shop)}
    return render(request, "stock/needs.html", page, status=422 if form.is_bound else 200)


def _work_out(request: ShopRequest, form: NeedsForm) -> bool:
    today = today_in(request.shop)
    nights = nights_ahead(request.shop, today, form.cleaned_data["a_night"])
    try:
        actions.work_out(
            shop=request.shop, wanted=form.wanted(), today=today, nights=nights, by=request.user
        )
    except NeedsRefused as refused:
        form.add_error(None, str(refused))
        return False
    messages.success(request, "Worked out from what is on hand now.")
    return True
