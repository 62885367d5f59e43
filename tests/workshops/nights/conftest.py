"""The scene of a night, and the browsers of those who look at it."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.urls import reverse

from inventory.places.models import Shop
from tests.workshops.nights.scene import Scene, bring_material, make_scene


@pytest.fixture
def scene(shop: Shop, clock) -> Scene:
    """Tonight with five people, nobody placed yet, and nothing in store."""
    return make_scene(shop)


@pytest.fixture
def material(scene: Scene) -> None:
    """Enough of everything for a night: only where it matters, because it takes a while."""
    bring_material(scene)


@pytest.fixture
def page(shop: Shop) -> Callable[..., str]:
    """The address of a page of tonight: ``page("roll")``, ``page("undo_tally", 3)``."""

    def address(name: str, *args: object) -> str:
        return reverse(f"nights:{name}", args=[shop.slug, "2026-01-14", *args])

    return address
