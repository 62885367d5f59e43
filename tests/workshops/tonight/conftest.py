"""Tonight's scene and the browsers of those who look at it."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client

from inventory.places.models import Shop
from tests.workshops.nights.scene import Scene, bring_material, make_scene
from workshops.access.models import User


@pytest.fixture
def scene(shop: Shop, clock) -> Scene:
    """Tonight with five people, nobody placed yet, and nothing in store."""
    return make_scene(shop)


@pytest.fixture
def material(scene: Scene) -> None:
    """Enough of everything for a night."""
    bring_material(scene)


@pytest.fixture
def lead(duty_lead: User, client_of: Callable[[User], Client]) -> Client:
    """The duty lead's browser."""
    return client_of(duty_lead)


@pytest.fixture
def page(shop: Shop) -> Callable[[str], str]:
    """The address of a page of tonight: ``page("off/")``."""
    return lambda path="": f"/{shop.slug}/nights/2026-01-14/tonight/{path}"
