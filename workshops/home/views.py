"""The front page of the site, and the home of a shop."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from workshops.access import queries
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.roles import permissions_of
from workshops.home.glance import glance_at
from workshops.nights.board import board_for
from workshops.nights.queries import next_night
from workshops.season.showing import drawn
from workshops.stock.straw import straw_alarms
from workshops.training.telling import losses_told


@login_required
def front(request: HttpRequest) -> HttpResponse:
    """The shops somebody belongs to; with one shop, its home at once."""
    shops = list(queries.shops_of(request.user))
    if len(shops) == 1:
        return redirect("home:home", shop=shops[0].slug)
    return render(request, "home/front.html", {"shops": shops})


@guard(Permission.SEE_HOME)
def home(request: ShopRequest) -> HttpResponse:
    """Tonight at a glance, what is short, the winter's band, and what to do next."""
    glance = glance_at(request.shop, timezone.now())
    picture = drawn(glance.outlook, for_phone=True) if glance.outlook else ""
    page = {"glance": glance, "picture": picture}
    page["alarms"] = straw_alarms(request.shop, timezone.now())
    if Permission.SEE_PEOPLE in permissions_of(request.member.role):
        page["losses"] = losses_told(request.shop, timezone.localdate())[:1]
    return render(request, "home/home.html", page)


@guard(Permission.SEE_HOME)
def tonight(request: ShopRequest) -> HttpResponse:
    """The stations of the next night, checked anew: a fragment of the home page."""
    night = next_night(request.shop, timezone.now())
    board = board_for(night) if night else None
    return render(request, "home/_stations.html", {"board": board, "night": night})
