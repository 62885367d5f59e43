"""The moving average against a worked example of a cost accounting course."""

from __future__ import annotations

from decimal import Decimal

from inventory.ledger.costs import Cost


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
