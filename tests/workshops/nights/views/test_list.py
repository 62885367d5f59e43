"""When do we meet? Nights to come, nights behind, and a new one."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.factories import make_night
from workshops.nights.models import Night

NEW = {"on": "2026-02-04", "kind": "steel", "doors": "18:00", "stop": "20:30", "lock_up": "21:00"}


@pytest.fixture
def at(shop):
    return lambda name: reverse(f"nights:{name}", args=[shop.slug])


def text(client, url: str) -> str:
    return client.get(url).content.decode()


def test_nights_to_come_stand_before_nights_behind(scene, guest, at) -> None:
    make_night(scene.shop, date=scene.night.date - timedelta(days=7), status="closed")
    page = text(guest, at("list"))
    assert page.index("Tonight") < page.index("Behind us") < page.index("Wednesday 7 January 2026")
    assert "5 coming" in page


def test_a_cancelled_night_says_so(scene, guest, at) -> None:
    Night.objects.update(status="cancelled")
    assert "cancelled" in text(guest, at("list"))


def test_without_nights_the_page_says_what_to_do_first(boss, at) -> None:
    assert "No night is on the calendar" in text(boss, at("list"))


def test_the_list_takes_as_many_queries_for_twice_the_nights(scene, guest, at) -> None:
    counts = []
    for weeks in (range(1, 3), range(3, 9)):
        for week in weeks:
            make_night(scene.shop, date=scene.night.date + timedelta(weeks=week))
        with CaptureQueriesContext(connection) as caught:
            guest.get(at("list"))
        counts.append(len(caught))
    assert counts[0] == counts[1] <= 5


def test_a_new_night_is_put_on_the_calendar(boss, at) -> None:
    answer = boss.post(at("add"), NEW, follow=True)
    assert Night.objects.get().kind == "steel"
    assert "The night of Wed Feb 4 is on the calendar." in answer.content.decode()


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"stop": "17:00"}, "doors open before the stop"),
        ({"on": "soon"}, "Enter a valid date"),
        ({"on": "2026-01-14"}, "already a night on 14 January"),
    ],
)
def test_a_night_that_cannot_be_is_refused_and_nothing_typed_is_lost(scene, boss, at, given, told):
    answer = boss.post(at("add"), NEW | {"goal": "Ten heads"} | given)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert told in page
    assert 'value="Ten heads"' in page


def test_only_the_coordinator_adds_nights(lead, guest, at) -> None:
    for client in (lead, guest):
        assert client.get(at("add")).status_code == 403
        assert client.post(at("add"), NEW).status_code == 403
    assert not Night.objects.exists()


def test_a_stranger_finds_no_nights(scene, stranger, client_of, at) -> None:
    assert client_of(stranger).get(at("list")).status_code == 404
