"""Dee and her link, in the scene of a night."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from django.core.cache import cache
from django.test import Client

from inventory.places.models import Shop
from tests.workshops.nights.scene import Scene, make_scene
from workshops.access.models import User
from workshops.people.models import Person


@pytest.fixture(autouse=True)
def nobody_asked_yet() -> Iterator[None]:
    """What was asked in another test counts for nothing here."""
    cache.clear()
    yield
    cache.clear()


@pytest.fixture
def scene(shop: Shop, clock) -> Scene:
    """Tonight with five people."""
    return make_scene(shop)


@pytest.fixture
def dee(scene: Scene, volunteer: User) -> Person:
    """Dee Reed, who has an account of role volunteer."""
    dee = scene.people["Dee"]
    dee.user, dee.email = volunteer, "dee@example.org"
    dee.save()
    return dee


@pytest.fixture
def own(dee: Person, volunteer: User, client_of: Callable[[User], Client]) -> Client:
    """Dee's browser."""
    return client_of(volunteer)
