"""A stop against whoever lets somebody to a station, on a real PostgreSQL, and the seal there."""

from __future__ import annotations

from collections.abc import Callable

import psycopg
import pytest

from tests.workshops.people.racing import STOP_WINS, outcome_of

pytestmark = pytest.mark.services


@pytest.fixture(scope="module")
def register_url(new_database: Callable[[str], str]) -> str:
    """A database of its own on the server."""
    return new_database("register")


@pytest.fixture(scope="module")
def outcome(register_url: str) -> dict[str, list[object]]:
    """The races, run once."""
    return outcome_of(register_url)


@pytest.mark.parametrize("race", STOP_WINS)
def test_the_stop_wins(race: str, outcome: dict[str, list[object]]) -> None:
    assert outcome[race] == STOP_WINS[race]


@pytest.mark.parametrize("statement", [
    "UPDATE people_signoff SET level = 5", "DELETE FROM people_signoff",
    "UPDATE people_bar SET reason = 'y'", "UPDATE people_bar SET lifted_at = NULL, lifted_by = ''",
])  # fmt: skip
def test_the_register_is_sealed(
    statement: str, outcome: dict[str, list[object]], register_url: str
) -> None:
    with (
        psycopg.connect(register_url) as server,
        pytest.raises(psycopg.errors.IntegrityError, match="append-only"),
    ):
        server.execute(statement)
