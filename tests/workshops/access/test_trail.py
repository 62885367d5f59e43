"""Who changed what: written beside every change, without what is private."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from auditlog.models import LogEntry
from django.test import Client

from inventory.places.models import Shop
from tests import factories
from workshops.access.models import User
from workshops.access.trail import Asked, trail_of
from workshops.common.acting import acting_for
from workshops.people.models import Person

PAGE = "/teal-point/trail/"


@pytest.fixture
def wren(shop: Shop) -> Person:
    return factories.make_person(shop, first_name="Wren", last_name="Alder", phone="555 0142")


def rename(person: Person, by: User, client_of: Callable[[User], Client]) -> None:
    fields = {"first_name": "Wrenna", "last_name": "Alder", "phone": "555 0999"}
    fields |= {"joined_on": "2026-01-01", "is_active": "on", "is_adult_declared": "on"}
    client_of(by).post(f"/teal-point/people/{person.pk}/edit/", fields)


def test_a_change_names_who_what_before_and_after(
    wren: Person, shop: Shop, coordinator: User, client_of: Callable[[User], Client]
) -> None:
    rename(wren, coordinator, client_of)
    line = trail_of(shop, Asked())[0]
    assert (line.who, line.done, line.kind, line.what) == (
        "Carla", "changed", "person", "Wrenna Alder",
    )  # fmt: skip
    assert ("first name", "Wren", "Wrenna") in [(c.field, c.before, c.after) for c in line.changes]


def test_what_is_private_is_noted_without_its_value(
    wren: Person, shop: Shop, coordinator: User, client_of: Callable[[User], Client]
) -> None:
    rename(wren, coordinator, client_of)
    kept = str(list(LogEntry.objects.values("changes", "changes_text", "serialized_data")))
    assert "555" not in kept
    changes = {c.field: c.after for c in trail_of(shop, Asked())[0].changes}
    assert changes["phone"] == "not shown"


def test_the_page_is_filtered_by_who_kind_name_and_day(
    wren: Person, coordinator: User, client_of: Callable[[User], Client]
) -> None:
    rename(wren, coordinator, client_of)
    client = client_of(coordinator)
    for query, count in (
        (f"who={coordinator.pk}&kind=person&words=wrenna", 1), ("kind=item", 0),
        ("words=nobody", 0), ("until=2020-01-01", 0),
    ):  # fmt: skip
        shown = client.get(f"{PAGE}?{query}").content.decode()
        assert shown.count("<b>Wrenna Alder</b>") == count


def test_another_shop_shows_nothing_of_it(wren: Person, other_shop: Shop) -> None:
    assert trail_of(other_shop, Asked(kind="person")) == []


def test_the_doings_of_a_job_are_those_of_who_asked_for_it(
    wren: Person, shop: Shop, coordinator: User, duty_lead: User
) -> None:
    with acting_for(coordinator):
        with acting_for(duty_lead):
            wren.first_name = "Wrenna"
            wren.save()
        wren.first_name = "Wrenella"
        wren.save()
    assert [line.who for line in trail_of(shop, Asked(kind="person"))][:2] == ["Carla", "Dov"]


def test_twice_as_many_changes_take_no_more_queries(
    wren: Person, shop: Shop, django_assert_num_queries: Any
) -> None:
    trail_of(shop, Asked())
    for name in ("A", "B", "C"):
        wren.first_name = name
        wren.save()
    with django_assert_num_queries(1):
        assert len(trail_of(shop, Asked(kind="person"))) == 3
