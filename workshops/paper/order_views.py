"""Printing an order: a job, with its page."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from inventory.deliveries.models import Order
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.common.jobs import start


@require_POST
@guard(Permission.MAKE_PAPER)
def order(request: ShopRequest) -> HttpResponse:
    """Print one order as it stands now."""
    asked = request.POST.get("order", "")
    pk = int(asked) if asked.isdecimal() and len(asked) < 10 else 0
    row = get_object_or_404(Order, pk=pk, shop=request.shop)
    job = start("print_order", shop=request.shop, by=request.user, order=row.pk)
    return redirect("common:job", shop=request.shop.slug, pk=job.pk)
