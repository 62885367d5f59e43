"""The book in the admin: read, never written."""

from __future__ import annotations

import pytest
from django.test import Client

from inventory.ledger.models import Entry
from tests.inventory.ledger.conftest import Bench
from workshops.access.models import User


@pytest.fixture
def chief(db: None) -> Client:
    """Somebody who may do everything the admin allows."""
    client = Client()
    client.force_login(User.objects.create_superuser("chief", password="winter-chief"))
    return client


def test_entries_and_balances_are_shown(bench: Bench, chief: Client) -> None:
    entry = bench.bring(bench.bolt, 2)
    assert chief.get("/admin/ledger/entry/").status_code == 200
    assert chief.get(f"/admin/ledger/entry/{entry.pk}/change/").status_code == 200
    assert chief.get("/admin/ledger/balance/").status_code == 200


@pytest.mark.parametrize("what", ["add/", "1/delete/"])
def test_nobody_writes_the_book_in_the_admin(bench: Bench, chief: Client, what: str) -> None:
    bench.bring(bench.bolt, 2)
    assert chief.get(f"/admin/ledger/entry/{what}").status_code in (302, 403)
    assert Entry.objects.count() == 1


def test_items_recipes_and_places_have_their_pages(bench: Bench, chief: Client) -> None:
    for page in ("materials/item", "materials/recipe", "places/shop", "places/place"):
        assert chief.get(f"/admin/{page}/").status_code == 200
    address = f"/admin/materials/recipe/{bench.recipe.pk}/change/"
    assert chief.get(address).status_code == 200
