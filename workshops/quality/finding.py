"""The night in an address, or 404."""

from __future__ import annotations

from datetime import date

from django.http import Http404

from inventory.places.models import Shop
from workshops.nights.models import Night
from workshops.nights.queries import night_on


def night_or_404(shop: Shop, on: date) -> Night:
    """The shop's night of that day."""
    night = night_on(shop, on)
    if night is None:
        raise Http404("There is no night on that day.")
    return night
