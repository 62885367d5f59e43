"""Error pages: plain words, the way back, and nothing of the inside."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.core.exceptions import BadRequest
from django.http import HttpRequest
from django.test import Client, RequestFactory
from django.views import defaults
from django.views.csrf import csrf_failure

from tests.crawl import read
from workshops.access.models import User

pytestmark = pytest.mark.django_db


def whole(answer: Any) -> str:
    """The page's words; it is whole: one heading, a way back, tags closed."""
    page = read("", "", answer)
    assert page.tags["h1"] == 1
    assert "/" in page.links
    assert page.broken == []
    return page.html


def test_a_missing_page_says_that_nothing_was_lost(client: Client) -> None:
    answer = client.get("/no/such/page/")
    assert answer.status_code == 404
    assert "Nothing was lost" in whole(answer)


def test_a_refusal_names_the_role_and_keeps_the_rooms(
    client_of: Callable[[User], Client], volunteer: User
) -> None:
    answer = client_of(volunteer).get("/teal-point/members/")
    assert answer.status_code == 403
    assert "Your role here is volunteer" in whole(answer)
    assert 'aria-label="Rooms of the shop"' in answer.content.decode()


def test_something_broken_is_told_without_a_database_or_a_user(rf: RequestFactory) -> None:
    assert "nothing is half-done" in whole(defaults.server_error(rf.get("/")))


def test_a_request_that_cannot_be_read_says_nothing_was_saved(rf: RequestFactory) -> None:
    answer = defaults.bad_request(rf.get("/"), BadRequest("no"))
    assert "Nothing was saved" in whole(answer)


def test_a_form_that_waited_too_long_says_how_to_go_on(rf: RequestFactory) -> None:
    request: HttpRequest = rf.post("/")
    assert "load the page again" in whole(csrf_failure(request, reason="no cookie"))


def test_a_form_without_its_token_is_refused(coordinator: User) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(coordinator)
    answer = client.post("/teal-point/members/", {})
    assert answer.status_code == 403
    assert "open too long" in answer.content.decode()
