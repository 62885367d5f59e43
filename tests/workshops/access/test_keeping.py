"""Only pages that opt in are kept by a browser: for whom, and until when."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.test import Client

from tests.factories import make_night
from workshops.access.keeping import HEADER
from workshops.access.models import User

pytestmark = pytest.mark.django_db
TALLY = "/teal-point/nights/2026-01-14/tally/"


@pytest.fixture
def signed_in(coordinator: User, shop: Any, clock: Any) -> Any:
    make_night(shop)

    def sign_in(**ticks: str) -> Client:
        client = Client()
        client.post("/sign-in/", {"username": "carla", "password": "winter-carla"} | ticks)
        return client

    return sign_in


def test_on_a_device_of_ones_own_it_is_kept_into_the_morning(signed_in: Any, clock: Any) -> None:
    who, until = signed_in().get(TALLY)[HEADER].split()
    assert int(who) == User.objects.get().pk
    assert datetime.fromtimestamp(int(until), UTC) == datetime(2026, 1, 15, 16, tzinfo=UTC)


def test_on_a_shared_tablet_it_is_kept_until_the_session_ends(signed_in: Any) -> None:
    until = signed_in(is_shared="on").get(TALLY)[HEADER].split()[1]
    assert datetime.fromtimestamp(int(until), UTC) == datetime(2026, 1, 15, 5, tzinfo=UTC)


@pytest.mark.parametrize("page", ["nights/", "people/", "nights/2026-01-14/", "members/"])
def test_other_pages_are_never_kept(page: str, signed_in: Any) -> None:
    answer = signed_in().get(f"/teal-point/{page}")
    assert answer.status_code == 200
    assert HEADER not in answer.headers


def test_a_refusal_is_not_kept(signed_in: Any) -> None:
    assert HEADER not in signed_in().post(TALLY, {"good": "-1"}).headers


def test_every_page_says_whose_it_is(signed_in: Any) -> None:
    assert f'data-who="{User.objects.get().pk}"' in signed_in().get(TALLY).content.decode()
    assert 'data-who=""' in Client().get("/sign-in/").content.decode()


def test_what_a_page_asks_by_itself_keeps_no_tablet_signed_in(signed_in: Any, clock: Any) -> None:
    tablet = signed_in(is_shared="on")
    for _ in range(2):
        clock.shift(timedelta(minutes=20))
        answer = tablet.get(TALLY, headers={"X-By-Itself": "yes"})
    assert answer.status_code == 302
    clock.shift(timedelta(minutes=1))
    assert "left lying" in tablet.get(TALLY, follow=True).content.decode()


def test_what_a_script_was_sending_is_not_offered_as_a_form(signed_in: Any, clock: Any) -> None:
    tablet = signed_in(is_shared="on")
    clock.shift(timedelta(minutes=40))
    tablet.post(TALLY, "{}", content_type="application/json")
    assert "shared_typed" not in tablet.session
