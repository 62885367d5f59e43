"""Several tablets posting at the same moment, each on its own connection to a real file."""

from __future__ import annotations

import pytest

from tests.inventory.ledger.tablets import outcome_of


@pytest.fixture(scope="module")
def outcome(tmp_path_factory: pytest.TempPathFactory) -> dict[str, int]:
    """On a SQLite file: the in-memory test database has other locks than a club meets."""
    file = tmp_path_factory.mktemp("book") / "book.sqlite3"
    return outcome_of(f"sqlite://{file}")


def test_nothing_is_lost_and_nothing_taken_twice(outcome: dict[str, int]) -> None:
    assert outcome["moved"] == 60
    assert (outcome["away"], outcome["left"]) == (60, 0)


def test_a_tally_that_all_tablets_send_is_written_once(outcome: dict[str, int]) -> None:
    # 20 shared and 80 own moves were wanted; the last 40 found the shelf empty.
    assert outcome["refused_own"] + outcome["refused_shared"] == 40


def test_the_balances_still_agree(outcome: dict[str, int]) -> None:
    assert outcome["differences"] == 0
