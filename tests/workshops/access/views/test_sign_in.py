"""Signing in and out, and a new password."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client

from workshops.access.models import User

pytestmark = pytest.mark.django_db
ClientOf = Callable[[User], Client]


def sign_in(client: Client, password: str, **extra: str) -> object:
    words = {"username": "carla", "password": password}
    return client.post("/sign-in/", words | extra)


def test_the_right_words_lead_to_where_somebody_wanted_to_go(
    client: Client, coordinator: User
) -> None:
    answer = sign_in(client, "winter-carla", next="/teal-point/stock/")
    assert answer["Location"] == "/teal-point/stock/"  # type: ignore[index]


def test_wrong_words_are_told_without_saying_which_is_wrong(
    client: Client, coordinator: User
) -> None:
    unknown = client.post("/sign-in/", {"username": "nobody", "password": "x"})
    wrong = client.post("/sign-in/", {"username": "carla", "password": "x"})
    says = "User name and password do not belong together"
    assert says in wrong.content.decode()
    assert says in unknown.content.decode()


def test_nobody_is_led_to_another_host(client: Client, coordinator: User) -> None:
    answer = sign_in(client, "winter-carla", next="https://example.org/")
    assert answer["Location"] == "/"  # type: ignore[index]


def test_a_link_cannot_sign_somebody_out(client_of: ClientOf, coordinator: User) -> None:
    client = client_of(coordinator)
    assert client.get("/sign-out/").status_code == 405
    assert client.post("/sign-out/")["Location"] == "/sign-in/"
    assert client.get("/teal-point/members/").status_code == 302


def test_a_new_password_is_asked_for_twice_and_kept(client_of: ClientOf, coordinator: User) -> None:
    new = "sedge-and-larch-7"
    words = {"old_password": "winter-carla", "new_password1": new, "new_password2": new}
    answer = client_of(coordinator).post("/password/", words, follow=True)
    assert "Your password is changed." in answer.content.decode()
    coordinator.refresh_from_db()
    assert coordinator.check_password(new)
