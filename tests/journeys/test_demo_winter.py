"""An evening in the demo's shop, as its people would go through the pages."""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Iterator
from typing import Any
from uuid import uuid4

import pytest
import time_machine
from django.http import HttpResponse
from django.test import Client

from inventory.ledger.queries import check, on_hand
from inventory.places.models import Shop
from tests.conftest import NOW
from tests.demo import demo_winter
from workshops.home.demo.people import DEMO_PASSWORD
from workshops.people.models import Person
from workshops.stations.models import Operation

TONIGHT = "/quillmere/nights/2026-01-14/"
Press = Callable[[Client, str], None]


@pytest.fixture(scope="module")
def demo(django_db_setup: None, django_db_blocker: Any) -> Iterator[Shop]:
    """The demo, loaded once at the hour the doors open."""
    with time_machine.travel(NOW), demo_winter(django_db_blocker, NOW.date()) as shop:
        yield shop


@pytest.fixture
def shop(demo: Shop, db: None) -> Iterator[Shop]:
    """The demo at the hour the doors open, as it was loaded."""
    with time_machine.travel(NOW):
        yield demo


def words(answer: HttpResponse) -> str:
    """What the page says, without its tags."""
    assert answer.status_code == 200
    return html.unescape(re.sub(r"(<[^>]+>|\s)+", " ", answer.content.decode()))


def signed_in(username: str) -> Client:
    """A browser after the sign-in page took the demo's password."""
    client = Client()
    given = {"username": username, "password": DEMO_PASSWORD}
    assert client.post("/sign-in/", given).status_code == 302
    return client


@pytest.fixture
def press(django_capture_on_commit_callbacks: Any) -> Press:
    """Presses a button that starts a job, and waits until it is done."""

    def pressed(client: Client, address: str) -> None:
        with django_capture_on_commit_callbacks(execute=True):
            assert client.post(address).status_code == 302

    return pressed


def rings(shop: Shop) -> int:
    return int(next(row.good for row in on_hand(shop) if row.item.slug == "hog-ring"))


def test_the_coordinator_finds_out_whether_tonight_can_run(shop: Shop, press: Press) -> None:
    client = signed_in("coordinator")
    press(client, f"{TONIGHT}plan/")
    page = words(client.get(TONIGHT))
    assert "No rule of the club stops this plan" in page
    assert "Abrasive saw ✕ closed" in page
    assert "Leopold F.'s ended on" in page
    assert "Lucjan W. could, and is not here" in page


def test_the_only_bender_bends_once_he_has_come(shop: Shop, press: Press) -> None:
    client = signed_in("duty-lead")
    press(client, f"{TONIGHT}plan/")
    page = words(client.get(TONIGHT))
    assert "Bend ● open – – Hollis D. Hollis D." in page


def test_the_newcomer_is_on_the_roll_and_must_sign_the_waiver(shop: Shop) -> None:
    corwin = Person.objects.get(shop=shop, first_name="Corwin")
    given = {"person": corwin.pk}
    answer = signed_in("duty-lead").post(f"{TONIGHT}roll/in/", given, follow=True)
    assert "Corwin B. is in" in words(answer)
    assert "Corwin B. has no waiver that counts" in words(answer)


def test_a_tally_takes_rings_and_its_undoing_gives_them_back(shop: Shop) -> None:
    client, before = signed_in("duty-lead"), rings(shop)
    operation = Operation.objects.get(shop=shop, slug="ring-cylinder")
    given = {"operation": operation.pk, "good": 3, "client_key": uuid4()}
    client.post(f"{TONIGHT}tally/", given)
    client.post(f"{TONIGHT}tally/", given)
    assert rings(shop) == before - 33
    tally = operation.tallies.latest("counted_at")
    client.post(f"{TONIGHT}tally/{tally.pk}/undo/")
    assert rings(shop) == before
    assert check(shop) == ()


def test_the_outlook_of_the_winter_is_open(shop: Shop, press: Press) -> None:
    client = signed_in("coordinator")
    assert "71 of 144 sets made" in words(client.get("/quillmere/winter/"))
    press(client, "/quillmere/winter/outlook/")
    page = words(client.get("/quillmere/winter/"))
    found = re.search(r"target of 144 sets is reached by the last night in .*?\((\d+) %\)", page)
    assert found, page
    assert 10 <= int(found[1]) <= 70


@pytest.mark.parametrize(
    ("page", "says"),
    [
        ("/quillmere/nights/", "26 coming"),
        ("/quillmere/people/", "Hollis Drummond"),
        ("/quillmere/people/sign-offs/", "Fire watch"),
        ("/quillmere/stations/", "Abrasive saw"),
        ("/quillmere/build-sheets/", "QM-21"),
        ("/quillmere/stock/", "Hog rings"),
        ("/quillmere/stock/items/welded-wire/", "75 1/2 in"),
        ("/quillmere/rules/", "the fire warden's letter"),
    ],
)
def test_every_page_of_the_demo_has_something_to_show(shop: Shop, page: str, says: str) -> None:
    assert says in words(signed_in("coordinator").get(page))


def test_a_reader_may_look_and_not_plan(shop: Shop) -> None:
    client = signed_in("reader")
    assert client.get("/quillmere/winter/").status_code == 200
    assert client.post(f"{TONIGHT}plan/").status_code == 403
