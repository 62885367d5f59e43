"""What do we have to buy, and by when?"""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from inventory.deliveries.expected import expected
from inventory.materials.queries import sets_of
from inventory.needs.answer import Needs
from inventory.needs.queries import NeedsRefused, is_stale, latest_needs
from inventory.needs.reordering import order_when
from inventory.places.models import Shop
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.asking import ask
from workshops.stock.buying import by_supplier, ordered_since
from workshops.stock.forms.needs import NeedsForm
from workshops.stock.times import today_in
from workshops.stock.wanted import usual_sets, wanted_sets


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
    page = {"form": form, **_told(request.shop, latest_needs(request.shop))}
    return render(request, "stock/needs.html", page, status=422 if form.is_bound else 200)


def _told(shop: Shop, answer: Needs | None) -> dict[str, Any]:
    coming, today = expected(shop), today_in(shop)
    told: dict[str, Any] = {
        "needs": answer,
        "coming": coming,
        "late": [row for row in coming if row.is_late(today)],
        "levels": order_when(shop, answer, timezone.now()),
        "today": today,
    }
    if answer is not None:
        ordered = any(ordered_since(answer, coming).values())
        told |= {"suppliers": by_supplier(answer), "stale": ordered or is_stale(answer)}
        told["after_that"] = [line for line in answer.runs_out if line != answer.stops_first]
    return told


def _work_out(request: ShopRequest, form: NeedsForm) -> bool:
    try:
        ask(
            shop=request.shop, wanted=form.wanted(), today=today_in(request.shop),
            by=request.user, a_night=form.rate(), stated_per_mille=form.per_mille(),
        )  # fmt: skip
    except NeedsRefused as refused:
        form.add_error(None, str(refused))
        return False
    messages.success(request, "Worked out from what is on hand and on order now.")
    return True
