"""What lies in one place? Where the label on a rack leads."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from inventory.ledger.queries import balances_at
from inventory.places.queries import places_of
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.shelves import unit_of


@require_GET
@guard(Permission.SEE_STOCK)
def place(request: ShopRequest, place: int) -> HttpResponse:
    """Everything that lies there, and the way to count or move it."""
    shown = get_object_or_404(places_of(request.shop), pk=place)
    rows = [(row, unit_of(row.item)) for row in balances_at(shown)]
    return render(request, "stock/place.html", {"place": shown, "rows": rows})
