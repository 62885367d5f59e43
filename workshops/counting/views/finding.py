"""The night in the address, or 404, and the way back to a page of it."""

from __future__ import annotations

from datetime import date

from django.http import Http404, HttpResponseRedirect
from django.urls import reverse

from workshops.access.guards import ShopRequest
from workshops.nights.models import Night
from workshops.nights.queries import night_on


def night_or_404(request: ShopRequest, on: date) -> Night:
    """The shop's night of that day."""
    night = night_on(request.shop, on)
    if night is None:
        raise Http404("There is no night on that day.")
    return night


def to_page(night: Night, page: str, *more: object) -> HttpResponseRedirect:
    """Back to a page of the tally of the night."""
    return HttpResponseRedirect(
        reverse(f"counting:{page}", args=[night.shop.slug, night.date, *more])
    )
