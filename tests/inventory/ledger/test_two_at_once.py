"""Several tablets posting at the same moment, each on its own connection to a real file."""

from __future__ import annotations

import pytest

from tests.inventory.ledger.at_once import AtOnce, Outcome
from tests.inventory.ledger.tablets import outcome_of
from tests.migrated import copy_migrated


@pytest.fixture(scope="module")
def outcome(tmp_path_factory: pytest.TempPathFactory) -> Outcome:
    """On a SQLite file: the in-memory test database has other locks than a club meets."""
    file = tmp_path_factory.mktemp("book") / "book.sqlite3"
    return outcome_of(copy_migrated(file))


class TestOnSqlite(AtOnce):
    """Real threads on one file."""
