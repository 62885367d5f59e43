"""Several tablets posting at the same moment on a real PostgreSQL, and the seal there."""

from __future__ import annotations

import psycopg
import pytest

from tests.inventory.ledger.tablets import outcome_of

pytestmark = pytest.mark.services


@pytest.fixture(scope="module")
def book_url(postgres_url: str) -> str:
    """A database of its own on the server."""
    with psycopg.connect(postgres_url, autocommit=True) as server:
        server.execute("CREATE DATABASE book")
    return postgres_url.rsplit("/", 1)[0] + "/book"


@pytest.fixture(scope="module")
def outcome(book_url: str) -> dict[str, int]:
    """The four tablets' evening."""
    return outcome_of(book_url)


def test_nothing_is_lost_and_nothing_taken_twice(outcome: dict[str, int]) -> None:
    assert outcome["moved"] == 60
    assert (outcome["away"], outcome["left"]) == (60, 0)


def test_a_tally_that_all_tablets_send_is_written_once(outcome: dict[str, int]) -> None:
    assert outcome["refused_own"] + outcome["refused_shared"] == 40


def test_the_balances_still_agree(outcome: dict[str, int]) -> None:
    assert outcome["differences"] == 0


@pytest.mark.parametrize(
    "statement", ["UPDATE ledger_line SET quantity = 9", "DELETE FROM ledger_entry"]
)
def test_posted_rows_are_sealed(outcome: dict[str, int], book_url: str, statement: str) -> None:
    with (
        psycopg.connect(book_url) as server,
        pytest.raises(psycopg.errors.IntegrityError, match="append-only"),
    ):
        server.execute(statement)
