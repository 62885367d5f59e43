"""Several tablets posting at the same moment on a real PostgreSQL, and the seal there."""

from __future__ import annotations

from collections.abc import Callable

import psycopg
import pytest

from tests.inventory.ledger.at_once import AtOnce, Outcome
from tests.inventory.ledger.tablets import outcome_of

pytestmark = pytest.mark.services


@pytest.fixture(scope="module")
def book_url(new_database: Callable[[str], str]) -> str:
    """A database of its own on the server."""
    return new_database("book")


@pytest.fixture(scope="module")
def outcome(book_url: str) -> Outcome:
    """The tablets' evening, and what they did at one moment."""
    return outcome_of(book_url)


class TestOnPostgres(AtOnce):
    """Real threads on a real server."""


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE ledger_line SET quantity = 9",
        "UPDATE ledger_entry SET reason = 'another story'",
        "DELETE FROM ledger_line",
        "DELETE FROM ledger_entry",
    ],
)
def test_posted_rows_are_sealed(outcome: Outcome, book_url: str, statement: str) -> None:
    with (
        psycopg.connect(book_url) as server,
        pytest.raises(psycopg.errors.IntegrityError, match="append-only"),
    ):
        server.execute(statement)
