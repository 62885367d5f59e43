"""What a page needs of a request that passed a guard."""

from __future__ import annotations

from django.http import HttpRequest
from django_htmx.middleware import HtmxDetails

from inventory.places.models import Shop


class InShop(HttpRequest):
    """A request in a shop. Above, ``access.guards.ShopRequest`` also knows the member."""

    shop: Shop
    htmx: HtmxDetails
