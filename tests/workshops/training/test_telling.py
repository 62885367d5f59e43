"""What a lapse costs the winter, where somebody reads it: home and the page of the person."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.utils import timezone

from inventory.places.models import Shop
from tests.factories import (
    TODAY,
    make_night,
    make_person,
    make_sign_off,
    make_sign_up,
    make_station,
)
from workshops.access.models import User
from workshops.common.models import Job
from workshops.people.models import Person
from workshops.training.telling import losses_told

SAYS = "If Ada M.&#x27;s sign-off for Weld lapses on 2 Feb 2026: about 31 sets fewer"


@pytest.fixture
def ada(shop: Shop, clock: Any) -> Person:
    """A welder whose sign-off was weighed."""
    ada = make_person(shop, first_name="Ada", last_name="Marsh")
    weld = make_station(shop, name="Weld")
    make_sign_off(ada, weld, valid_until=date(2026, 2, 2), recorded_at=timezone.now())
    loss = {"person": ada.pk, "name": "Ada Marsh", "station": weld.pk, "station_name": "Weld"}
    losses = [loss | {"ended": "2026-02-02", "sets": 31.2}, loss | {"ended": "x", "sets": 0.2}]
    Job.objects.create(
        shop=shop, kind="weigh_lapses", state=Job.State.DONE, ended_at=timezone.now(),
        result={"losses": losses},
    )  # fmt: skip
    return ada


@pytest.mark.parametrize("page", ["", "people/{}/"])
def test_home_and_the_person_page_tell_the_stored_figure_with_a_link(
    ada: Person, page: str, coordinator: User, client_of: Any
):
    told = client_of(coordinator).get(f"/teal-point/{page.format(ada.pk)}").content.decode()
    assert SAYS in told
    assert 'href="/teal-point/training/lapses/"' in told


def test_who_was_signed_anew_since_then_is_told_of_no_more(ada: Person, clock: Any):
    assert [each.person for each in losses_told(ada.shop, TODAY)] == [ada.pk]
    clock.shift(60)
    make_sign_off(ada, ada.sign_offs.get().station, recorded_at=timezone.now())
    assert losses_told(ada.shop, TODAY) == []


def test_nothing_is_told_where_nothing_was_weighed(shop: Shop):
    assert losses_told(shop, TODAY) == []


def test_home_counts_the_guests_who_are_brought(shop: Shop, coordinator: User, client_of: Any,
                                                clock: Any):  # fmt: skip
    make_sign_up(make_night(shop), make_person(shop), guests=2)
    page = client_of(coordinator).get("/teal-point/").content.decode()
    assert "1 said yes and bring 2 guests" in page
