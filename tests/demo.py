"""The demo winter for a whole file of tests: loading it takes longer than most tests do."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from typing import Any

from django.db import transaction

from inventory.places.models import Shop
from workshops.home.demo.load import load_demo


@contextmanager
def demo_winter(blocker: Any, today: date) -> Iterator[Shop]:
    """The shop of the demo as loaded on that day, taken back at the end.

    What each test changes lies in a savepoint of its own inside, and is taken back before.
    """
    with blocker.unblock(), transaction.atomic():
        yield load_demo(today=today)
        transaction.set_rollback(True)
