"""The night in an address, or 404, and the way back to its pages: for every slice that has some."""

from __future__ import annotations

from datetime import date

from django.http import Http404, HttpResponseRedirect
from django.urls import reverse

from inventory.places.models import Shop
from workshops.nights import queries
from workshops.nights.models import Night


def night_or_404(shop: Shop, on: date) -> Night:
    """The shop's night of that day."""
    night = queries.night_on(shop, on)
    if night is None:
        raise Http404("There is no night on that day.")
    return night


def to_night(
    night: Night, page: str = "nights:night", *more: object, fragment: str = ""
) -> HttpResponseRedirect:
    """Back to a page of the night, whose address may name more behind the day."""
    return HttpResponseRedirect(reverse(page, args=[night.shop.slug, night.date, *more]) + fragment)
