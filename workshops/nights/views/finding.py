"""The night in the address, or 404."""

from __future__ import annotations

from datetime import date

from django.http import Http404, HttpResponseRedirect
from django.urls import reverse

from workshops.access.guards import ShopRequest
from workshops.nights import queries
from workshops.nights.models import Night


def night_or_404(request: ShopRequest, on: date) -> Night:
    """The shop's night of that day."""
    night = queries.night_on(request.shop, on)
    if night is None:
        raise Http404("There is no night on that day.")
    return night


def to_night(night: Night, page: str = "nights:night", fragment: str = "") -> HttpResponseRedirect:
    """Back to a page of the night."""
    return HttpResponseRedirect(reverse(page, args=[night.shop.slug, night.date]) + fragment)
