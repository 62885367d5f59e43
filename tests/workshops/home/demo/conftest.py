"""The demo, loaded once for all the tests that only look at it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from django.db import transaction

from inventory.places.models import Shop
from workshops.home.demo.load import load_demo

TODAY = date(2026, 1, 14)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Ask for the database, which is made only for tests that say so themselves."""
    here = Path(__file__).parent
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.django_db)


@pytest.fixture(scope="package")
def demo(django_db_setup: None, django_db_blocker: Any) -> Iterator[Shop]:
    """The shop of the demo as loaded on a Wednesday; taken back when the package is done."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield load_demo(today=TODAY)
        transaction.set_rollback(True)
