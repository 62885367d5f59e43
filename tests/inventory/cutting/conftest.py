"""A rack of tube, a list made from it, and presses at the saw."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

import pytest

from inventory.cutting.actions import Done, cut, make_cut_list
from inventory.cutting.models import CutListRun, CutTick
from inventory.ledger.models import Line
from inventory.measures.lengths import feet, inches
from inventory.places.models import Shop
from tests.inventory.winter import Stock, make_stock

AT = datetime(2026, 1, 14, 19, 30, tzinfo=UTC)
WANTED = [("Post", feet(7), 4), ("Head", inches(20), 8)]


@pytest.fixture
def stock(shop: Shop) -> Stock:
    """Three sticks of 20 ft in the yard."""
    stock = make_stock(shop)
    stock.bring(stock.tube, 3, feet(20))
    return stock


@pytest.fixture
def run(stock: Stock) -> CutListRun:
    """Four posts and eight heads: two sticks of two posts and three heads, and a third."""
    return make_cut_list(shop=stock.shop, item=stock.tube, pieces=WANTED, by=None)


@pytest.fixture
def press() -> Callable[..., CutTick]:
    """``press(run, pattern, sticks)``; all that are left without a number."""

    def pressed(
        run: CutListRun, pattern: int = 0, sticks: int | None = 1, key: UUID | None = None,
        **places: Any,
    ) -> CutTick:  # fmt: skip
        done = Done(by=None, at=AT, client_key=key, **places)
        return cut(run=run, pattern=pattern, sticks=sticks, done=done)

    return pressed


def metal(stock: Stock, *accounts: str) -> int:
    """Micrometres on these accounts, after everything that was posted."""
    lines = Line.objects.filter(item=stock.tube, account__in=accounts)
    return sum(int(line.quantity) * line.length_um for line in lines)
