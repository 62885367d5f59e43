"""A forgotten password: a letter with a link that opens once."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.core import mail
from django.test import Client

from workshops.access.models import User

pytestmark = pytest.mark.django_db
NEW = "sedge-and-larch-7"


@pytest.fixture
def link(client: Client, coordinator: User) -> str:
    """The link of the letter Carla asked for."""
    coordinator.email = "carla@club.example"
    coordinator.save()
    client.post("/password/forgotten/", {"email": "carla@club.example"})
    return re.search(r"http://testserver(/\S+)", str(mail.outbox[0].body))[1]  # type: ignore[index]


def choose(client: Client, link: str) -> Any:
    page = client.get(link, follow=True)
    where = page.redirect_chain[-1][0]
    return client.post(where, {"new_password1": NEW, "new_password2": NEW}, follow=True)


def test_the_letter_names_the_user_and_leads_to_a_new_password(client: Client, link: str) -> None:
    assert mail.outbox[0].subject == "A new password for Winterbench"
    assert "Hello Carla," in mail.outbox[0].body
    assert "Your new password is kept" in choose(client, link).content.decode()
    assert User.objects.get(username="carla").check_password(NEW)


def test_the_link_opens_once(client: Client, link: str) -> None:
    choose(client, link)
    page = Client().get(link)
    assert "This link opens no more" in page.content.decode()


def test_an_unknown_address_is_answered_alike_and_gets_no_letter(client: Client, db: None) -> None:
    answer = client.post("/password/forgotten/", {"email": "nobody@club.example"}, follow=True)
    assert answer.redirect_chain == [("/password/sent/", 302)]
    assert mail.outbox == []


def test_an_account_without_a_password_gets_none_this_way(client: Client, db: None) -> None:
    User.objects.create_user("by-link", email="wren@club.example", password=None)
    client.post("/password/forgotten/", {"email": "wren@club.example"})
    assert mail.outbox == []


def test_whoever_had_to_wait_signs_in_at_once_with_the_new_one(client: Client, link: str) -> None:
    for _ in range(6):
        client.post("/sign-in/", {"username": "carla", "password": "wrong"})
    choose(client, link)
    answer = client.post("/sign-in/", {"username": "carla", "password": NEW})
    assert answer.status_code == 302
