"""The scene of a night, two tablets, and the browsers of those who count."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client
from django.urls import reverse

from inventory.places.models import Shop
from tests.workshops.counting.tablet import SimulatedTablet
from tests.workshops.nights.conftest import scene

__all__ = ["page", "post_json", "scene", "tablet"]


@pytest.fixture
def page(shop: Shop) -> Callable[..., str]:
    """The address of a page of tonight's tally: ``page("tally")``, ``page("undo", 3)``."""

    def address(name: str, *args: object) -> str:
        return reverse(f"counting:{name}", args=[shop.slug, "2026-01-14", *args])

    return address


@pytest.fixture
def tablet(lead: Client, page: Callable[..., str]) -> Callable[[str], SimulatedTablet]:
    """A tablet that shares through the lead's browser."""

    def named(name: str) -> SimulatedTablet:
        return SimulatedTablet(name, lambda body: post_json(lead, page("share"), body))

    return named


def post_json(client: Client, url: str, body: object) -> object:
    """What the address answers to a batch; None when it was not taken."""
    answer = client.post(url, body, content_type="application/json")
    return answer.json() if answer.status_code == 200 else None
