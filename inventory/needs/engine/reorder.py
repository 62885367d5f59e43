"""When and how much to order of what is used all the time: gloves, wire tips, gas."""

from __future__ import annotations

from fractions import Fraction
from math import isqrt


def reorder_point(
    yearly: int, working_days: int, lead_days: int, *, safety: int | Fraction = 0
) -> int:
    """Order when so many are left: what the lead time uses, and the safety stock, rounded up.

    Parameters
    ----------
    yearly, working_days, lead_days
        Used in a year of so many working days; working days from order to shelf.
    safety
        Kept for a lead time that is longer or a use that is higher than usual.

    Raises
    ------
    ValueError
        When there are no working days, or something is less than 0.

    Source: any operations textbook; the check quotes one.
    """
    if working_days < 1 or min(yearly, lead_days, safety) < 0:
        raise ValueError("working_days must be 1 or more, the rest not less than 0")
    exact = Fraction(yearly * lead_days, working_days) + safety
    return -(-exact.numerator // exact.denominator)


def order_quantity(yearly: int, order_cost: Fraction, keep_cost: Fraction) -> int:
    """The whole number to order at a time for which ordering and keeping together cost least.

    Parameters
    ----------
    yearly
        Used in a year, 1 or more.
    order_cost, keep_cost
        Money for one order, and for keeping one piece a year; both more than 0.

    Raises
    ------
    ValueError
        When one of them is not more than 0.

    Source: F. W. Harris, *How many parts to make at once* (1913): the square root of
    2 x yearly x order cost / keep cost.
    """
    if yearly < 1 or order_cost <= 0 or keep_cost <= 0:
        raise ValueError("yearly, order_cost and keep_cost must be more than 0")
    square = 2 * yearly * order_cost / keep_cost
    # the cost curve has one valley: the best whole number is next to the root
    low = max(1, isqrt(square.numerator // square.denominator))
    return min(low, low + 1, key=lambda n: yearly * order_cost / n + keep_cost * n / 2)
