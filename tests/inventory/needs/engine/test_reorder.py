"""Reorder points and order quantities."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as some

from inventory.needs.engine.reorder import order_quantity, reorder_point


def test_part_of_a_piece_is_a_whole_one():
    """10 in 4 days and 1 day to come: 2.5, so 3."""
    assert reorder_point(10, 4, 1) == 3


@pytest.mark.parametrize("bad", [(8000, 0, 3), (-1, 250, 3), (8000, 250, -3)])
def test_nonsense_is_refused(bad):
    with pytest.raises(ValueError, match="working_days"):
        reorder_point(*bad)


def test_costs_of_nothing_are_refused():
    with pytest.raises(ValueError, match="more than 0"):
        order_quantity(100, Fraction(0), Fraction(1))


@given(some.integers(1, 5000), some.integers(1, 90), some.integers(1, 50))
def test_no_neighbouring_quantity_costs_less(yearly, order_cost, keep_cost):
    best = order_quantity(yearly, Fraction(order_cost), Fraction(keep_cost))

    def cost(quantity: int) -> Fraction:
        return Fraction(yearly * order_cost, quantity) + Fraction(keep_cost * quantity, 2)

    assert all(cost(best) <= cost(n) for n in (best - 1, best + 1) if n > 0)
