"""Every address: a decision is recorded, the guard keeps it, for each role and for strangers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from django.test import Client

from tests.addresses import DECISIONS, EVERYBODY, SIGNED_IN, Address, every_address
from tests.matrix import NOBODY, OUTSIDER, Matrix, matrix
from workshops.access.roles import permissions_of

ADDRESSES = {address.name: address for address in every_address()}
OF_SHOP = sorted(name for name, address in ADDRESSES.items() if address.is_of_shop)
OF_NO_SHOP = sorted(set(ADDRESSES) - set(OF_SHOP))

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def site(django_db_setup: None, django_db_blocker: Any) -> Iterator[Matrix]:
    """One browser for each role, for the whole file."""
    with matrix(django_db_blocker) as made:
        yield made


def ask(client: Client, address: Address, shop: str = "teal-point") -> Any:
    """What the address answers: to GET, or to POST when it takes no other."""
    url = address.url(shop)
    answer = client.get(url)
    return client.post(url) if answer.status_code == 405 else answer


def leads_to_sign_in(answer: Any) -> bool:
    return answer.status_code == 302 and answer["Location"].startswith("/sign-in/")


def test_a_decision_is_recorded_for_every_address_and_for_no_other() -> None:
    undecided = {name: ADDRESSES[name].guarded_by for name in set(ADDRESSES) - set(DECISIONS)}
    assert not undecided, f"decide in tests/addresses.py: {undecided}"
    assert not set(DECISIONS) - set(ADDRESSES), "these addresses are gone"


@pytest.mark.parametrize("name", OF_SHOP)
def test_the_guard_asks_for_what_was_decided(name: str) -> None:
    assert ADDRESSES[name].guarded_by == DECISIONS[name]


@pytest.mark.parametrize("name", OF_SHOP)
def test_each_role_passes_where_it_may_and_nowhere_else(name: str, site: Matrix) -> None:
    for role, client in site.members.items():
        status = ask(client, ADDRESSES[name]).status_code
        if DECISIONS[name] in permissions_of(role):
            assert status not in (403, 500), f"{role} may, and got {status}"
        else:
            assert status == 403, f"{role} may not, and got {status}"


@pytest.mark.parametrize("name", OF_SHOP)
def test_a_stranger_finds_nothing_there(name: str, site: Matrix) -> None:
    assert ask(site.browsers[OUTSIDER], ADDRESSES[name]).status_code == 404


@pytest.mark.parametrize("name", OF_SHOP)
def test_somebody_not_signed_in_is_sent_to_sign_in(name: str, site: Matrix) -> None:
    assert leads_to_sign_in(ask(site.browsers[NOBODY], ADDRESSES[name]))


@pytest.mark.parametrize("name", OF_NO_SHOP)
def test_a_page_of_no_shop_is_open_or_asks_to_sign_in_as_decided(name: str, client: Client) -> None:
    answer = ask(client, ADDRESSES[name])
    assert DECISIONS[name] in (EVERYBODY, SIGNED_IN)
    if DECISIONS[name] == SIGNED_IN:
        assert leads_to_sign_in(answer)
    else:
        # A secret address that nobody has finds nothing, and is open all the same.
        found = (200, 302, 404) if ADDRESSES[name].arguments else (200, 302)
        assert answer.status_code in found


def test_the_administration_is_for_staff(site: Matrix) -> None:
    answer = site.browsers["coordinator"].get("/admin/")
    assert answer["Location"].startswith("/admin/login/")
