"""What lapses, who was told, and what it costs."""

from __future__ import annotations

from datetime import timedelta

from inventory.places.models import Shop
from tests.factories import TODAY, make_sign_off
from tests.workshops.training.conftest import ClientOf, ready
from workshops.access.models import User
from workshops.common.models import Job
from workshops.people.models import Person
from workshops.stations.models import Station

PAGE = "/teal-point/training/lapses/"


def test_it_shows_what_ends_soon_and_sends_the_warnings_due(
    shop: Shop, arno: Person, drill: Station, coordinator: User, client_of: ClientOf
):
    make_sign_off(ready(shop, "Bo"), drill, valid_until=TODAY + timedelta(days=3))
    client = client_of(coordinator)
    assert "last day 17 Jan 2026" in client.get(PAGE).text
    client.post(f"{PAGE}warn/")
    text = client.get(PAGE).text
    assert "2 people to warn, 1 of them by word of mouth." in text
    assert "tell them" in text
    client.post(f"{PAGE}warn/")
    assert "Everybody was told already." in client.get(PAGE).text


def test_without_a_winter_it_says_why_nothing_can_be_weighed(
    shop: Shop, coordinator: User, client_of: ClientOf, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks(execute=True):
        client_of(coordinator).post(f"{PAGE}weigh/")
    job = Job.objects.get(kind="weigh_lapses")
    assert (job.state, job.message) == (
        "failed", "There is no winter yet: begin one on its page.",
    )  # fmt: skip
    assert "Not worked out yet" in client_of(coordinator).get(PAGE).text


def test_volunteers_see_nothing_of_it(volunteer: User, client_of: ClientOf):
    assert client_of(volunteer).get(PAGE).status_code == 403
