"""What the winter still wants, and the nights to come."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal

import pytest

from inventory.ledger import actions
from inventory.materials.queries import recipe_of
from tests.factories import make_night, make_winter
from tests.inventory.winter import Stock
from workshops.season.models import Target
from workshops.stock.wanted import nights_ahead, usual_sets, wanted_sets

TODAY = date(2026, 1, 14)


@pytest.fixture
def target(stock: Stock) -> Target:
    return Target.objects.create(winter=make_winter(stock.shop), item=stock.complete, new=30)


def finish(stock: Stock, sets: int, night_key: str) -> None:
    actions.make(
        shop=stock.shop, recipe=recipe_of(stock.complete), good=sets, hold=0, scrap=0, by=None,
        at=datetime(2026, 1, 13, 20, tzinfo=stock.shop.zone), night_key=night_key,
    )  # fmt: skip


def test_without_a_target_nothing_is_wanted(stock) -> None:
    assert wanted_sets(stock.shop, TODAY) == {}


def test_the_target_is_wanted(stock, target) -> None:
    assert wanted_sets(stock.shop, TODAY) == {stock.complete.pk: 30}


def test_sets_that_stand_here_count_as_wanted_and_as_there(stock, target) -> None:
    row = actions.Counted(stock.complete, 0, "good", Decimal(4))
    actions.count(
        shop=stock.shop, place=stock.complete.home, counted=[row], by=None,
        at=datetime(2026, 1, 13, 20, tzinfo=stock.shop.zone),
    )  # fmt: skip
    assert wanted_sets(stock.shop, TODAY) == {stock.complete.pk: 34}


def test_a_usual_night_is_the_mean_of_those_that_finished_any(stock) -> None:
    assert usual_sets(stock.shop) == 1
    finish(stock, 3, "2026-01-06")
    finish(stock, 6, "2026-01-13")
    assert usual_sets(stock.shop) in (4, 5)


def test_planned_nights_from_today_on_are_told_in_order(stock) -> None:
    for day, status in ((7, "planned"), (28, "planned"), (14, "planned"), (21, "cancelled")):
        make_night(stock.shop, date=date(2026, 1, day), status=status)
    assert nights_ahead(stock.shop, TODAY, 5) == [(date(2026, 1, 14), 5), (date(2026, 1, 28), 5)]
