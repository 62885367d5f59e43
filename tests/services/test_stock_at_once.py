"""Two tablets doing the same thing of the stock on a real PostgreSQL, and the seals there."""

from __future__ import annotations

from collections.abc import Callable

import psycopg
import pytest

from tests.inventory.stocktake.test_seal import STATEMENTS
from tests.workshops.stock.at_once import StockAtOnce
from tests.workshops.stock.tablets import Outcome, outcome_of

pytestmark = pytest.mark.services

OF_READINGS = ("UPDATE readings_reading SET temperature = 60", "DELETE FROM readings_reading")


@pytest.fixture(scope="module")
def stock_url(new_database: Callable[[str], str]) -> str:
    """A database of its own on the server."""
    return new_database("stock")


@pytest.fixture(scope="module")
def outcome(stock_url: str) -> Outcome:
    """What came of the scenes."""
    return outcome_of(stock_url)


class TestOnPostgres(StockAtOnce):
    """Real threads on a real server."""


@pytest.mark.parametrize("statement", [*STATEMENTS, *OF_READINGS])
def test_posted_counts_and_readings_are_sealed(
    outcome: Outcome, stock_url: str, statement: str
) -> None:
    with (
        psycopg.connect(stock_url) as server,
        pytest.raises(psycopg.errors.IntegrityError, match="append-only"),
    ):
        server.execute(statement)
