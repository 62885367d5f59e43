"""Tonight's scene and the browsers of those who look at it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from inventory.places.models import Shop
from tests.workshops.nights.conftest import material, scene

__all__ = ["material", "page", "scene"]


@pytest.fixture
def page(shop: Shop) -> Callable[[str], str]:
    """The address of a page of tonight: ``page("off/")``."""
    return lambda path="": f"/{shop.slug}/nights/2026-01-14/tonight/{path}"
