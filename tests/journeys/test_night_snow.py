"""Snow: two nights in a row are called off, people moved and told, and the winter knows."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.core import mail
from django.test import Client

from tests.factories import make_night, make_sign_up, make_winter
from tests.workshops.nights.scene import Scene, make_scene
from workshops.access.models import User
from workshops.mine.models import Feed
from workshops.nights.actions import set_training
from workshops.nights.models import Night, SignUp, TrainingDate
from workshops.season.history import history_of
from workshops.season.loading import problem_of
from workshops.tonight.models import Told

pytestmark = pytest.mark.django_db


@pytest.fixture
def scene(shop, clock: Any) -> Scene:
    """Three Wednesdays in a row, everybody down for the first, two with an address."""
    scene = make_scene(shop)
    for name in ("Ada", "Bo"):
        scene.people[name].email = f"{name.lower()}@example.org"
        scene.people[name].save()
    scene.people["Cy"].phone = "0700 55"
    scene.people["Cy"].save()
    clock.move_to(scene.at("15:00"))
    return scene


def url(night: Night, path: str = "") -> str:
    return f"/teal-point/nights/{night.date}/tonight/off/{path}"


def send(client: Client, address: str, capture: Any, **given: object) -> str:
    """A form sent, its jobs done, and what the page then says."""
    with capture(execute=True):
        answer = client.post(address, given, follow=True)
    assert answer.status_code == 200
    return re.sub(r"(<[^>]+>|\s)+", " ", answer.text.split("<main")[1])


def test_snow_cancels_two_nights_in_a_row(
    scene: Scene, duty_lead: User, client_of: Callable[[User], Client], clock: Any,
    django_capture_on_commit_callbacks: Any,
):  # fmt: skip
    first, capture = scene.night, django_capture_on_commit_callbacks
    second, third = (make_night(scene.shop, date=first.date + timedelta(weeks=n)) for n in (1, 2))
    make_sign_up(second, scene.people["Dee"], answer="no")
    set_training(
        night=first, learner=scene.people["Eli"], station=scene.drill, lead=scene.people["Ada"],
        by=None,
    )  # fmt: skip
    SignUp.objects.filter(night=first, person=scene.people["Ada"]).update(arrives="19:00")
    lead = client_of(duty_lead)

    # The first: moved to the second with their times; Dee's no stands.
    shown = send(lead, url(first), capture, reason="snow", to=second.pk)
    assert "4 people moved" in shown
    ada = SignUp.objects.get(night=second, person=scene.people["Ada"])
    assert (ada.answer, f"{ada.arrives:%H:%M}") == ("maybe", "19:00")
    assert SignUp.objects.get(night=second, person=scene.people["Dee"]).answer == "no"

    # Told once: two by letter, three on the list to be rung, one of them rung.
    send(lead, url(first, "tell/"), capture)
    send(lead, url(first, "tell/"), capture)
    assert sorted(letter.to[0] for letter in mail.outbox) == ["ada@example.org", "bo@example.org"]
    assert "is off: snow" in mail.outbox[0].body
    assert "☐ Cy R." in lead.get(url(first)).text
    assert "0700 55" in lead.post(url(first, "phones/")).text
    cy = Told.objects.get(person=scene.people["Cy"])
    assert "Rung: Cy R." in send(lead, url(first, f"rung/{cy.pk}/"), capture)

    # Its training is offered to the second.
    assert "Eli R. at Drill, beside Ada R." in lead.get(url(first)).text
    send(lead, url(first, "training/"), capture)
    assert TrainingDate.objects.get(night=second).learner == scene.people["Eli"]

    # A week on it snows again: who was perhaps coming is moved and told once more.
    clock.move_to(scene.at("15:00") + timedelta(weeks=1))
    assert "4 people moved" in send(lead, url(second), capture, reason="more snow", to=third.pk)
    send(lead, url(second, "tell/"), capture)
    assert len(mail.outbox) == 4
    assert SignUp.objects.filter(night=third, answer="maybe").count() == 4
    assert not SignUp.objects.filter(night=third, person=scene.people["Dee"]).exists()
    assert set(Night.objects.filter(status="cancelled")) == {first, second}


def test_calendars_show_it_cancelled_and_the_winter_counts_it_lost(
    scene: Scene, duty_lead: User, client_of: Callable[[User], Client], client: Client,
    django_capture_on_commit_callbacks: Any,
):  # fmt: skip
    feed = Feed.objects.create(shop=scene.shop, person=scene.people["Ada"])
    winter, later = make_winter(scene.shop), make_night(
        scene.shop, date=scene.night.date + timedelta(weeks=1)
    )  # fmt: skip
    address = f"/calendar/{feed.secret}.ics"
    assert "CANCELLED" not in client.get(address).content.decode()
    send(client_of(duty_lead), url(scene.night), django_capture_on_commit_callbacks,
         reason="snow", to=later.pk)  # fmt: skip
    text = client.get(address).content.decode()
    assert text.count("STATUS:CANCELLED") == 1
    assert text.count("STATUS:TENTATIVE") == 1
    assert [night.date for night in problem_of(winter, scene.night.date).nights] == ["2026-01-21"]
    past = history_of(scene.shop, later.date).past_nights()
    assert [(night.date, night.held) for night in past] == [("2026-01-14", False)]


def test_a_new_day_is_the_coordinators_to_choose(
    scene: Scene, duty_lead: User, coordinator: User, client_of: Callable[[User], Client],
    django_capture_on_commit_callbacks: Any,
):  # fmt: skip
    lead, boss = client_of(duty_lead), client_of(coordinator)
    assert 'name="on"' not in lead.get(url(scene.night)).text
    shown = send(lead, url(scene.night), django_capture_on_commit_callbacks,
                 reason="no heat", on="2026-01-17")  # fmt: skip
    assert "is off" in shown
    assert not Night.objects.filter(date="2026-01-17").exists()
    shown = send(boss, url(scene.night), django_capture_on_commit_callbacks, on="2026-01-17")
    assert "5 people moved" in shown
    assert SignUp.objects.filter(night__date="2026-01-17", answer="maybe").count() == 5
