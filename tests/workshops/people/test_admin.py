"""The administration is no back door into the register."""

from __future__ import annotations

import pytest
from django.contrib import admin
from django.test import Client

from inventory.places.models import Shop
from tests.factories import make_bar, make_person, make_sign_off, make_station, make_waiver
from workshops.access.models import User
from workshops.club.models import ClubRule
from workshops.people.models import Bar, Guardianship, Person, SignOff, Waiver
from workshops.stations.models import BuildSheet, Operation, Part, Station, Tool

SHOWN_ONLY = [
    Bar, BuildSheet, ClubRule, Guardianship, Operation, Part, Person, SignOff, Station, Tool,
    Waiver,
]  # fmt: skip


@pytest.fixture
def almighty(db: None) -> Client:
    """A browser of somebody who may do everything Django knows of."""
    client = Client()
    client.force_login(User.objects.create_superuser("root", password="winter-root"))
    return client


@pytest.mark.parametrize("model", SHOWN_ONLY, ids=lambda model: model.__name__)
def test_even_a_superuser_adds_changes_and_deletes_nothing(almighty: Client, model: type):
    address = f"/admin/{model._meta.app_label}/{model._meta.model_name}/"
    assert model in admin.site._registry
    assert almighty.get(address).status_code == 200
    assert almighty.get(f"{address}add/").status_code == 403


def test_a_sign_off_cannot_be_changed_or_deleted(almighty: Client, shop: Shop):
    row = make_sign_off(make_person(shop), make_station(shop))
    address = f"/admin/people/signoff/{row.pk}/"
    assert almighty.post(f"{address}change/", {"level": 5}).status_code == 403
    assert almighty.post(f"{address}delete/", {"post": "yes"}).status_code == 403
    row.refresh_from_db()
    assert row.level == 3


def test_the_lists_of_the_administration_do_not_ask_row_by_row(
    almighty: Client, shop: Shop, django_assert_max_num_queries: object
):
    for _ in range(10):
        person = make_person(shop)
        make_bar(person)
        make_waiver(person)
        make_sign_off(person, make_station(shop))
    for name in ("signoff", "bar", "waiver"):
        with django_assert_max_num_queries(9):
            assert almighty.get(f"/admin/people/{name}/").status_code == 200
