"""What a guard lets through, and what everybody else meets."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.template import engines
from django.template.response import SimpleTemplateResponse
from django.test import RequestFactory
from django.utils import timezone

from inventory.places.models import Shop
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.models import User


@guard(Permission.SEE_STOCK)
def page(request: ShopRequest, number: int = 0) -> HttpResponse:
    """Says where it is, who asks and what the clock is set to."""
    zone = timezone.get_current_timezone_name()
    return HttpResponse(f"{request.shop.slug} {request.member.role} {zone} {number}")


@pytest.fixture
def asked_by(rf: RequestFactory) -> Callable[..., HttpRequest]:
    def ask(user: User | AnonymousUser, **extra: object) -> HttpRequest:
        request = rf.get("/teal-point/stock/")
        request.user = user
        for name, value in extra.items():
            setattr(request, name, value)
        return request

    return ask


def test_a_member_with_the_permission_gets_the_page_in_the_shops_own_time(
    asked_by: Callable[..., HttpRequest], storekeeper: User
) -> None:
    answer = page(asked_by(storekeeper), shop="teal-point", number=3)
    assert answer.content == b"teal-point storekeeper America/Chicago 3"
    assert timezone.get_current_timezone_name() == "UTC"


def test_a_member_without_the_permission_is_refused_and_told_the_role(
    asked_by: Callable[..., HttpRequest], volunteer: User
) -> None:
    with pytest.raises(PermissionDenied, match="Your role here is volunteer"):
        page(asked_by(volunteer), shop="teal-point")


def test_a_stranger_learns_nothing_about_the_shop(
    asked_by: Callable[..., HttpRequest], stranger: User, shop: Shop
) -> None:
    with pytest.raises(Http404) as known:
        page(asked_by(stranger), shop="teal-point")
    with pytest.raises(Http404) as unknown:
        page(asked_by(stranger), shop="no-such-shop")
    assert str(known.value) == str(unknown.value)


def test_somebody_not_signed_in_is_sent_to_the_sign_in_page_and_back(
    asked_by: Callable[..., HttpRequest], shop: Shop
) -> None:
    answer = page(asked_by(AnonymousUser()), shop="teal-point")
    assert answer.status_code == 302
    assert answer["Location"] == "/sign-in/?next=/teal-point/stock/"


def test_a_fragment_asked_for_after_the_session_ended_moves_the_whole_page(
    asked_by: Callable[..., HttpRequest], shop: Shop
) -> None:
    answer = page(asked_by(AnonymousUser(), htmx=True), shop="teal-point")
    assert answer["HX-Redirect"].startswith("/sign-in/")


def test_a_lazy_answer_is_rendered_while_the_shops_clock_is_set(
    asked_by: Callable[..., HttpRequest], reader: User
) -> None:
    words = engines["django"].from_string("{% load tz %}{% get_current_timezone as z %}{{ z }}")
    lazy = guard(Permission.SEE_STOCK)(lambda request: SimpleTemplateResponse(words))
    assert lazy(asked_by(reader), shop="teal-point").content == b"America/Chicago"


def test_the_guard_costs_one_query(
    asked_by: Callable[..., HttpRequest], reader: User, django_assert_num_queries: Callable
) -> None:
    with django_assert_num_queries(1):
        page(asked_by(reader), shop="teal-point")
