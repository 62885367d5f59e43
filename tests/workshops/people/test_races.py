"""A stop that is committed while somebody is let to a station wins, on SQLite."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.migrated import copy_migrated
from tests.workshops.people.racing import STOP_WINS, outcome_of


@pytest.fixture(scope="module")
def outcome(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[object]]:
    """The races, run once."""
    path: Path = tmp_path_factory.mktemp("races") / "races.sqlite3"
    return outcome_of(copy_migrated(path))


@pytest.mark.parametrize("race", STOP_WINS)
def test_the_stop_wins(race: str, outcome: dict[str, list[object]]) -> None:
    assert outcome[race] == STOP_WINS[race]
