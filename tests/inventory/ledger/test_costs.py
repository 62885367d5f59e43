"""What one of an item costs, from the book."""

from __future__ import annotations

from decimal import Decimal

from inventory.ledger import actions
from inventory.ledger.costs import Cost, costs_of
from tests.inventory.ledger.conftest import AT, Bench


def test_an_item_that_never_came_costs_nothing(bench: Bench) -> None:
    assert costs_of(bench.bolt).bought.average is None


def test_the_average_moves_with_a_purchase_and_stays_with_a_use(bench: Bench) -> None:
    bench.bring(bench.bolt, 4, value=Decimal(40))
    bench.bring(bench.bolt, 4, value=Decimal(60))
    bench.make(4)
    cost = costs_of(bench.bolt).bought
    assert (cost.quantity, cost.average) == (6, Decimal("12.5"))


def test_gifts_are_kept_apart_and_used_up_in_their_share(bench: Bench) -> None:
    bench.bring(bench.bolt, 6, value=Decimal(60))
    bench.bring(bench.bolt, 2, value=Decimal(10), is_donated=True)
    bench.make(8)
    costs = costs_of(bench.bolt)
    assert (costs.bought.quantity, costs.bought.rounded) == (3, Decimal("30.00"))
    assert (costs.given.quantity, costs.given.rounded) == (1, Decimal("5.00"))


def test_a_delivery_taken_back_never_counted(bench: Bench) -> None:
    entry = bench.bring(bench.bolt, 4, value=Decimal(40))
    actions.correct(entry, reason="another shop's", by=None, at=AT)
    bench.bring(bench.bolt, 2, value=Decimal(30))
    assert costs_of(bench.bolt).bought == Cost(Decimal(2), Decimal(30))


def test_more_taken_than_there_leaves_nothing(bench: Bench) -> None:
    assert Cost(Decimal(2), Decimal(10)).taken(Decimal(3)) == Cost()
