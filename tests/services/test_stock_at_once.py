"""Two tablets doing the same thing of the stock, on a real PostgreSQL."""

from __future__ import annotations

import psycopg
import pytest

from tests.workshops.stock.at_once import StockAtOnce
from tests.workshops.stock.tablets import Outcome, outcome_of

pytestmark = pytest.mark.services


@pytest.fixture(scope="module")
def outcome(postgres_url: str) -> Outcome:
    """On a database of its own on the server."""
    with psycopg.connect(postgres_url, autocommit=True) as server:
        server.execute("CREATE DATABASE stock")
    return outcome_of(postgres_url.rsplit("/", 1)[0] + "/stock")


class TestOnPostgres(StockAtOnce):
    """Real threads on a real server."""
