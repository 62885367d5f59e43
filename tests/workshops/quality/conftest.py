"""A night with a bench at which pieces are counted and checked."""

from __future__ import annotations

import pytest

from inventory.places.models import Shop
from tests.workshops.nights.scene import Scene, make_scene
from tests.workshops.quality.bench import Bench


@pytest.fixture
def scene(shop: Shop, clock: object) -> Scene:
    """Tonight, with nothing in store: what is missing is drawn from the count difference."""
    return make_scene(shop)


@pytest.fixture
def bench(scene: Scene, clock: object) -> Bench:
    """Counting and checking on it, later in the evening."""
    clock.shift(3 * 60 * 60)  # type: ignore[attr-defined]
    return Bench(scene)
