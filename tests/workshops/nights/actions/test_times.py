"""The times of a night changed: who stands where stays, where the block stays."""

from __future__ import annotations

from datetime import time

import pytest

from workshops.nights import actions
from workshops.nights.models import Placing
from workshops.nights.refusals import NightRefused


def set_times(scene, blocks, *, stop: str = "20:30", lock_up: str = "21:00", at: str = "18:00"):
    return actions.set_times(
        night=scene.night, doors=time(18), stop=time.fromisoformat(stop),
        lock_up=time.fromisoformat(lock_up), at=scene.at(at),
        blocks=[(time.fromisoformat(a), time.fromisoformat(b)) for a, b in blocks],
    )  # fmt: skip


def spans(scene) -> list[str]:
    return [str(block) for block in scene.blocks]


@pytest.fixture
def placed(scene):
    """Dee tags all night."""
    actions.place(
        night=scene.night,
        block=scene.blocks[0],
        person=scene.people["Dee"],
        station=scene.tag,
        to_end=True,
    )
    return scene


def as_it_is(scene) -> list[tuple[str, str]]:
    return [(f"{block.starts:%H:%M}", f"{block.ends:%H:%M}") for block in scene.blocks]


def test_a_block_that_begins_as_before_keeps_its_people(placed) -> None:
    blocks = as_it_is(placed)
    blocks[2] = (blocks[2][0], "20:15")
    done = set_times(placed, blocks, stop="20:15")
    assert (done.lost, Placing.objects.count()) == (0, 3)
    assert spans(placed)[2].endswith("20:15")


def test_a_block_that_is_dropped_loses_its_people_and_it_is_said(placed) -> None:
    done = set_times(placed, as_it_is(placed)[:2], stop="20:00")
    assert (done.lost, Placing.objects.count()) == (1, 2)


def test_a_block_in_between_moves_the_numbers_and_nobody(placed) -> None:
    first, *rest = as_it_is(placed)
    set_times(placed, [("18:00", "18:30"), first, *rest])
    assert [block.index for block in placed.blocks] == [0, 1, 2, 3]
    assert {row.block.index for row in Placing.objects.select_related("block")} == {1, 2, 3}


@pytest.mark.parametrize(
    ("blocks", "stop", "says"),
    [
        ([], "20:30", "at least one stretch"),
        ([("18:30", "20:45")], "20:30", "between the doors and the stop"),
        ([("18:30", "19:30"), ("19:00", "20:00")], "20:30", "after the block before it"),
        ([("18:30", "19:30")], "21:30", "the doors open before the stop"),
    ],
)
def test_times_out_of_order_are_refused(scene, blocks, stop: str, says: str) -> None:
    with pytest.raises(NightRefused, match=says):
        set_times(scene, blocks, stop=stop)


def test_a_block_that_is_over_stays_as_it_was(placed) -> None:
    with pytest.raises(NightRefused, match="is over at 19:30 and stays as it was"):
        set_times(placed, as_it_is(placed)[1:], at="19:30")
