"""Whatever is done in whatever order, balances are the sums of their lines and never negative.

Also: every entry comes to nothing, a key writes once, and every piece that is there leads
back to a delivery or a count.
"""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis.stateful import run_state_machine_as_test

from tests.examples import examples
from tests.inventory.ledger.any_book import AnyBook

pytestmark = pytest.mark.django_db
# A step more than actions: opening the shop is counted as one.
QUIET = {"suppress_health_check": list(HealthCheck)}


def run(wanted: settings) -> int:
    """The most steps that one shop went through."""
    AnyBook.longest = 0
    run_state_machine_as_test(AnyBook, settings=wanted)
    return AnyBook.longest


def test_any_short_sequence_leaves_a_right_book() -> None:
    assert run(examples(10, stateful_step_count=41, **QUIET)) >= 40


def test_any_sequence_of_500_actions_leaves_a_right_book() -> None:
    # Not made shorter when it fails: the short sequences above find what a short one shows.
    phases = [Phase.explicit, Phase.reuse, Phase.generate]
    assert run(examples(4, stateful_step_count=501, phases=phases, **QUIET)) >= 500
