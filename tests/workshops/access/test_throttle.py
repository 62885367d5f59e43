"""Too many wrong passwords: a name rests for a while, from that address alone."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.conf import settings
from django.test import Client

from inventory.places.models import Shop
from workshops.access.models import User
from workshops.access.throttle import minutes_left, waiting_among

pytestmark = pytest.mark.django_db
TRIES = settings.AXES_FAILURE_LIMIT


def sign_in(client: Client, password: str, **address: str) -> Any:
    words = {"username": "carla", "password": password}
    return client.post("/sign-in/", words, **address)  # type: ignore[arg-type]


@pytest.fixture
def resting(coordinator: User, clock: Any) -> Client:
    """A browser that gave too many wrong passwords for Carla."""
    client = Client()
    for _ in range(TRIES):
        sign_in(client, "wrong")
    return client


def test_one_wrong_password_less_than_too_many_still_asks_again(coordinator: User) -> None:
    client = Client()
    answers = {sign_in(client, "wrong").status_code for _ in range(TRIES - 1)}
    assert answers == {200}
    assert sign_in(client, "winter-carla").status_code == 302


def test_the_page_says_how_long_and_whom_to_ask_even_to_the_right_password(
    resting: Client,
) -> None:
    answer = sign_in(resting, "winter-carla")
    assert answer.status_code == 429
    assert "Wait 10 minutes" in answer.content.decode()
    assert "Ask your coordinator" in answer.content.decode()


def test_the_wait_ends_when_it_was_said_to_however_often_somebody_presses(
    resting: Client, clock: Any
) -> None:
    clock.shift(timedelta(minutes=9))
    assert "Wait 1 minute," in sign_in(resting, "wrong").content.decode()
    clock.shift(timedelta(minutes=1, seconds=1))
    assert sign_in(resting, "winter-carla").status_code == 302


def test_the_same_name_may_sign_in_from_elsewhere(resting: Client) -> None:
    assert sign_in(Client(), "winter-carla", REMOTE_ADDR="192.0.2.7").status_code == 302


def test_another_name_may_sign_in_on_the_same_tablet(resting: Client, duty_lead: User) -> None:
    answer = resting.post("/sign-in/", {"username": "dov", "password": "winter-dov"})
    assert answer.status_code == 302


def test_a_right_password_forgets_the_wrong_ones_before_it(coordinator: User) -> None:
    client = Client()
    for _ in range(TRIES - 1):
        sign_in(client, "wrong")
    sign_in(client, "winter-carla")
    assert sign_in(Client(), "wrong").status_code == 200


def test_a_coordinator_sees_who_waits_and_lets_them_in_again(
    resting: Client, shop: Shop, coordinator: User, client_of: Callable[[User], Client]
) -> None:
    client = client_of(coordinator)
    # Signing in by other means has forgotten nothing about the address of the tablet.
    for _ in range(TRIES):
        sign_in(resting, "wrong")
    assert "Let Carla try again" in client.get("/teal-point/members/").content.decode()
    client.post(f"/teal-point/members/{coordinator.memberships.get().pk}/let-in/")
    assert waiting_among(["carla"]) == set()
    assert sign_in(resting, "winter-carla").status_code == 302


def test_a_name_nobody_tried_does_not_wait(shop: Shop) -> None:
    assert minutes_left("nobody") == 0
    assert waiting_among([]) == set()
