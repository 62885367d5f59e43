"""The moving average itself; what it makes of a book is tested with the needs."""

from __future__ import annotations

from decimal import Decimal

from inventory.ledger.costs import Cost


def test_nothing_has_no_average() -> None:
    assert Cost().average is None


def test_the_average_moves_with_a_purchase_and_stays_with_a_use() -> None:
    cost = Cost().bought(Decimal(4), Decimal(40)).bought(Decimal(4), Decimal(60))
    left = cost.taken(Decimal(2))
    assert (cost.average, left.average, left.quantity) == (Decimal("12.5"), Decimal("12.5"), 6)


def test_more_taken_than_there_leaves_nothing() -> None:
    assert Cost(Decimal(2), Decimal(10)).taken(Decimal(3)) == Cost()


def test_money_is_rounded_half_up_and_only_where_it_is_shown() -> None:
    cost = Cost(Decimal(3), Decimal("10.005"))
    assert (cost.rounded, cost.value) == (Decimal("10.01"), Decimal("10.005"))
