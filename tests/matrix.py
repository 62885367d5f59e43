"""One browser for each role, signed in once and put back after every address that is asked."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import time_machine
from _pytest.monkeypatch import MonkeyPatch
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.test import Client

from inventory.places.models import Shop
from tests import factories
from tests.conftest import NOW
from workshops import urls
from workshops.access.models import Membership

OUTSIDER = "of the other shop"
NOBODY = "not signed in"


@dataclass
class Matrix:
    """Two shops and a browser for everybody who may ask: each role, a stranger, nobody."""

    shop: Shop
    other: Shop
    browsers: dict[str, Client]

    @property
    def members(self) -> dict[str, Client]:
        """The browsers of the shop's own people, by role."""
        return {role: self.browsers[role] for role in Membership.Role.values}


@contextmanager
def matrix(unblocker: Any) -> Iterator[Matrix]:
    """A matrix for a whole file: everything written for it is taken back afterwards.

    What refuses says so in one word, since the page around it is the same hundreds of times;
    the page itself is tested in access.
    """
    with (
        unblocker.unblock(),
        time_machine.travel(NOW, tick=False),
        MonkeyPatch.context() as patch,
        transaction.atomic(),
    ):
        for status in (403, 404):
            patch.setattr(urls, f"handler{status}", _bare(status), raising=False)
        shop = factories.make_shop()
        other = factories.make_shop(name="Mallow Creek", slug="mallow-creek")
        yield Matrix(shop, other, _browsers(shop, other))
        transaction.set_rollback(True)


def _browsers(shop: Shop, other: Shop) -> dict[str, Client]:
    found = {NOBODY: Client(), OUTSIDER: _signed_in(other, "stan", Membership.Role.COORDINATOR)}
    for role in Membership.Role.values:
        found[role] = _signed_in(shop, f"a-{role}", role)
    return found


def _signed_in(shop: Shop, name: str, role: str) -> Client:
    client = Client(raise_request_exception=False)
    client.force_login(factories.make_member(shop, name, role))
    return client


def _bare(status: int) -> Any:
    def answer(request: HttpRequest, exception: Exception) -> HttpResponse:
        return HttpResponse(status=status)

    return answer
