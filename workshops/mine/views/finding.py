"""Whose page it is: one's own, or that of a child one answers for."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from workshops.access.guards import ShopRequest
from workshops.mine import queries
from workshops.people.models import Person

Page = Callable[..., HttpResponse]


def of_somebody(view: Page) -> Page:
    """Give the view the person whose account it is, or say that the account is nobody's."""

    @wraps(view)
    def found(request: ShopRequest, **kwargs: Any) -> HttpResponse:
        person = queries.person_of(request.user, request.shop)
        if person is None:
            return render(request, "mine/nobody.html", status=404)
        return view(request, person=person, **kwargs)

    return found


def chosen(request: ShopRequest, person: Person) -> tuple[Person, list[Person]]:
    """Whom the page is about, and everybody it can be about: oneself first.

    Anybody else is not found, whoever asks.
    """
    everybody = [person, *queries.wards_of(person, timezone.localdate())]
    asked = (request.POST or request.GET).get("for", "") or str(person.pk)
    for each in everybody:
        if str(each.pk) == asked:
            return each, everybody
    raise Http404("You answer for nobody of that number.")
