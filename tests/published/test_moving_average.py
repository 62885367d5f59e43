"""The moving average against a worked example of a cost accounting course."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest

from inventory.ledger import actions
from inventory.ledger.costs import Cost
from inventory.needs.prices import prices_of
from inventory.places.models import Shop
from tests.factories import make_item, make_recipe


def test_moving_average_cost_of_the_course_example() -> None:
    """Source: worked example of a cost accounting course set (quizlet.com, set 634164174).

    9,200 at 9.71; 6,300 more at 10.23 make the average 9.921; after 7,400 are taken and
    8,200 bought at 10.69 it is 10.308; after 11,100 are taken 5,200 are left, worth 53,602.
    """
    first = Cost().bought(Decimal(9200), Decimal(9200) * Decimal("9.71"))
    second = first.bought(Decimal(6300), Decimal(6300) * Decimal("10.23"))
    assert round(second.average, 3) == Decimal("9.921")
    third = second.taken(Decimal(7400)).bought(Decimal(8200), Decimal(8200) * Decimal("10.69"))
    assert round(third.average, 3) == Decimal("10.308")
    last = third.taken(Decimal(11100))
    assert last.quantity == 5200
    assert abs(last.rounded - 53602) < 1


@pytest.mark.django_db
def test_the_course_example_comes_out_of_the_book(shop: Shop) -> None:
    """The same example as goods-in and makings of a shop's book, day after day.

    What is left is worth 5,200 x 10.308 = 53,602.
    """
    first, bolt = datetime(2026, 1, 5, 12, tzinfo=UTC), make_item(shop, kind="small")
    recipe = make_recipe(make_item(shop), (bolt, 1, 0))
    steps = [(9200, "9.71"), (6300, "10.23"), (7400, None), (8200, "10.69"), (11100, None)]
    averages = []
    for n, (quantity, price) in enumerate(steps):
        at = first + timedelta(days=n)
        given = {"shop": shop, "by": None, "at": at}
        if price is None:
            actions.make(recipe=recipe, good=quantity, **given)
        else:
            actions.goods_in(
                item=bolt, quantity=Decimal(quantity), place=bolt.home, source="Course",
                is_donated=False, value=quantity * Decimal(price), **given,
            )  # fmt: skip
        averages.append(prices_of(shop, [bolt], at.date())[bolt.pk].bought)
    assert [round(each, 3) for each in averages] == [
        Decimal("9.710"), Decimal("9.921"), Decimal("9.921"), Decimal("10.308"), Decimal("10.308"),
    ]  # fmt: skip
    assert abs(averages[-1] * left_of(bolt) - 53602) < 1


def left_of(bolt) -> Decimal:
    return sum((row.quantity for row in bolt.balances.all()), Decimal())
