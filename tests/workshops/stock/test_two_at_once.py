"""Two tablets doing the same thing of the stock, on a real SQLite file."""

from __future__ import annotations

import pytest

from tests.migrated import copy_migrated
from tests.workshops.stock.at_once import StockAtOnce
from tests.workshops.stock.tablets import Outcome, outcome_of


@pytest.fixture(scope="module")
def outcome(tmp_path_factory: pytest.TempPathFactory) -> Outcome:
    """On a file: the in-memory test database has other locks than a club meets."""
    return outcome_of(copy_migrated(tmp_path_factory.mktemp("stock") / "stock.sqlite3"))


class TestOnSqlite(StockAtOnce):
    """Real threads on one file."""
