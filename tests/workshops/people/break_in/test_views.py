"""Every address that can stand somebody somewhere, posted to with whatever comes to hand."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Any

import pytest
from django.test import Client

from inventory.places.models import Shop
from tests.examples import IS_LONG, MANY
from tests.workshops.people.break_in.by_views import try_by_views
from tests.workshops.people.break_in.world import make_world
from workshops.access.models import User

SEQUENCES = 108 * (MANY if IS_LONG else 1)


@pytest.mark.parametrize("chunk", range(2))
def test_no_sequence_of_posts_stands_somebody_unsigned_at_a_machine(
    chunk: int, shop: Shop, other_shop: Shop, clock: Any, client_of: Callable[[User], Client]
) -> None:
    world = make_world(shop, other_shop)
    browsers = {role: client_of(user) for role, user in world.users.items()}
    tried, number = 0, 0
    while tried < SEQUENCES:
        tried += try_by_views(world, Random(f"{chunk} {number}"), browsers)
        number += 1
