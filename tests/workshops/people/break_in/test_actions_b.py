"""Every public action, in any order: nobody unsigned comes to stand at a machine.

In two files, since a file stays with one worker.
"""

from __future__ import annotations

from random import Random
from typing import Any

import pytest

from inventory.places.models import Shop
from tests.examples import IS_LONG, MANY
from tests.workshops.people.break_in.by_actions import try_by_actions
from tests.workshops.people.break_in.world import make_world

SEQUENCES = 300 * (MANY if IS_LONG else 1)


@pytest.mark.parametrize("chunk", range(3, 6))
def test_no_sequence_of_actions_stands_somebody_unsigned_at_a_machine(
    chunk: int, shop: Shop, other_shop: Shop, clock: Any
) -> None:
    world = make_world(shop, other_shop)
    tried, number = 0, 0
    while tried < SEQUENCES:
        tried += try_by_actions(world, Random(f"{chunk} {number}"))
        number += 1
