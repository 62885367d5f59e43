"""Ask for a link, open it, read the calendar: pages of no shop, for whoever has the address."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.contrib.auth import login
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_variables
from django.views.decorators.http import require_http_methods, require_safe

from workshops.access.tablets import mark_shared
from workshops.mine import actions, queries
from workshops.mine.asking import is_too_often
from workshops.mine.calendar import written
from workshops.mine.forms import LinkForm
from workshops.mine.links import is_let_in, link_of, people_at
from workshops.mine.refusals import LinkRefused
from workshops.people.models import Person
from workshops.people.names import told_apart

MODEL_BACKEND = "django.contrib.auth.backends.ModelBackend"
DAY = 24 * 3600


@require_http_methods(["GET", "POST"])
@never_cache
def ask(request: HttpRequest) -> HttpResponse:
    """Ask for a link; the answer is the same whether the address is known or not."""
    form = LinkForm(request.POST or None)
    if request.method != "POST" or not form.is_valid():
        status = 422 if form.is_bound else 200
        return render(request, "mine/ask.html", {"form": form}, status=status)
    email = form.cleaned_data["email"]
    if not is_too_often(email=email, host=request.META.get("REMOTE_ADDR", "")):
        actions.ask_for_link(email=email, site=request.build_absolute_uri("/").rstrip("/"))
    return render(request, "mine/asked.html", {"minutes": settings.SESAME_MAX_AGE // 60})


@require_http_methods(["GET", "POST"])
@never_cache
@sensitive_variables("token")
def open_link(request: HttpRequest, token: str) -> HttpResponse:
    """Say who it is and go in. Opening the page uses nothing up: mail programs look first."""
    refused = ""
    if request.method == "POST":
        try:
            person = actions.use_link(token=token, person=_number(request.POST.get("person", "")))
        except LinkRefused as error:
            refused = str(error)
        else:
            return _let_in(request, person)
    link = link_of(token)
    people = [row for row in people_at(link.email) if is_let_in(row)] if link else []
    names = told_apart(people)
    page: dict[str, Any] = {"people": [(row, names[row.pk]) for row in people], "refused": refused}
    page |= {"minutes": settings.SHARED_TABLET_IDLE_MINUTES, "days": settings.LINK_OWN_DEVICE_DAYS}
    return render(request, "mine/open.html", page, status=422 if refused else 200)


def _let_in(request: HttpRequest, person: Person) -> HttpResponse:
    assert person.user is not None
    # By name, because a link is none of the ways in which a password is checked.
    login(request, person.user, backend=MODEL_BACKEND)
    if request.POST.get("own") == "yes":
        request.session.set_expiry(settings.LINK_OWN_DEVICE_DAYS * DAY)
    else:
        mark_shared(request, person.user)
    return redirect("mine:nights", shop=person.shop.slug)


def _number(text: str) -> int:
    # Nobody has the number nought.
    return int(text) if text.isdecimal() and len(text) < 19 else 0


@require_safe
def calendar(_request: HttpRequest, secret: str) -> HttpResponse:
    """The calendar of whoever gave this address to their telephone."""
    feed = queries.feed_by(secret)
    if feed is None:
        raise Http404("No calendar is at this address any more.")
    text = written(feed, timezone.now())
    answer = HttpResponse(text, content_type="text/calendar; charset=utf-8")
    answer["Content-Disposition"] = 'inline; filename="shop-nights.ics"'
    answer["Cache-Control"] = "private, max-age=300"
    return answer
