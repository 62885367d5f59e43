"""How much more a plan makes than first come, first placed, in a sentence."""

from __future__ import annotations

import pytest

from workshops.nights import actions
from workshops.nights.queries import FirstCome, first_come_of


@pytest.mark.parametrize(
    ("sets", "pieces", "told"),
    [
        (9, 12, "9 more sets than first come, first placed, and 12 pieces more on the way."),
        (1, 0, "1 more set than first come, first placed, and as many pieces on the way."),
        (0, 1, "As many sets as first come, first placed, and 1 piece more on the way."),
        (-2, -3, "2 fewer sets than first come, first placed, and 3 pieces fewer on the way."),
    ],
)
def test_more_and_fewer_are_told_as_they_are(sets: int, pieces: int, told: str) -> None:
    assert FirstCome(sets, pieces).told == told


def test_a_plan_is_measured_against_its_own_baseline(scene, material) -> None:
    run = actions.plan_night(night=scene.night, by=None, seconds=1.0)
    found = first_come_of(run)
    assert found is not None
    assert run.result["worth"] >= run.result["first_come"]


def test_an_old_run_without_its_baseline_tells_nothing(scene, material) -> None:
    run = actions.plan_night(night=scene.night, by=None, seconds=1.0)
    del run.result["first_come_output"]
    assert first_come_of(run) is None
    assert first_come_of(None) is None
