"""Every public action, in any order: nobody unsigned comes to stand at a machine.

In two files, since a file stays with one worker.
"""

from __future__ import annotations

from random import Random
from typing import Any

import pytest

from inventory.places.models import Shop
from tests.examples import IS_LONG, MANY
from tests.workshops.people.break_in.by_actions import WEIGHTS, try_by_actions
from tests.workshops.people.break_in.world import make_world
from workshops.nights import actions as nights
from workshops.people import actions as people

SEQUENCES = 300 * (MANY if IS_LONG else 1)

# Actions that put nobody anywhere, and say nothing of what anybody may do.
STANDS_NOBODY = {
    "ask_for_a_hand", "guess_out", "sign_in_all", "take_back",
    "add_night", "book_uses", "cancel_night", "close_night", "set_aims", "set_times",
    "usual_blocks",
    "add_point", "answer_points", "drop_point", "look_again", "mark_read", "note_round",
    "stand_down", "stop_work", "tell_spark",
    "step_away", "add_person", "enter_sign_off", "hold_register", "link_account", "record_uses",
    "sign_waiver", "walk_in", "when_stopped", "drop_training", "look_at",
}  # fmt: skip


def test_every_public_action_is_tried_or_said_to_stand_nobody() -> None:
    doors = {name for door in (nights, people) for name in door.__all__ if name.islower()}
    assert doors - STANDS_NOBODY == set(WEIGHTS) - {"edit_station"}


@pytest.mark.parametrize("chunk", range(0, 3))
def test_no_sequence_of_actions_stands_somebody_unsigned_at_a_machine(
    chunk: int, shop: Shop, other_shop: Shop, clock: Any
) -> None:
    world = make_world(shop, other_shop)
    tried, number = 0, 0
    while tried < SEQUENCES:
        tried += try_by_actions(world, Random(f"{chunk} {number}"))
        number += 1
