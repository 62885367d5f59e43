"""The front page of the site."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from workshops.access import queries


@login_required
def front(request: HttpRequest) -> HttpResponse:
    """The shops somebody belongs to."""
    shops = list(queries.shops_of(request.user))
    return render(request, "home/front.html", {"shops": shops})
