"""What does a set cost?"""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from inventory.materials.queries import recipes_in_use
from inventory.needs.costing import costs_of_sets
from inventory.needs.scrap import scrap_of
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.forms.orders import DayForm
from workshops.stock.times import today_in


@require_GET
@guard(Permission.SEE_STOCK)
def set_costs(request: ShopRequest) -> HttpResponse:
    """One set of each kind, material by material, as of a day."""
    form = DayForm(request.GET or None)
    today = today_in(request.shop)
    day = form.chosen(today)
    scrap = scrap_of(request.shop, recipes_in_use(request.shop))
    page = {
        "costs": costs_of_sets(request.shop, day, scrap),
        "day": day,
        "form": DayForm(initial={"day": day}),
        "is_metric": request.shop.units == "mm",
    }
    return render(request, "stock/set_costs.html", page)
