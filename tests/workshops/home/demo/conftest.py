"""The demo, loaded once for all the tests that only look at it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from inventory.places.models import Shop
from tests.demo import demo_winter

TODAY = date(2026, 1, 14)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Ask for the database, which is made only for tests that say so themselves.

    First of all: tests with a database are then put before those without.
    """
    here = Path(__file__).parent
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.django_db)


@pytest.fixture(scope="package")
def demo(django_db_setup: None, django_db_blocker: Any) -> Iterator[Shop]:
    """The shop of the demo as loaded on a Wednesday; taken back when the package is done."""
    with demo_winter(django_db_blocker, TODAY) as shop:
        yield shop
