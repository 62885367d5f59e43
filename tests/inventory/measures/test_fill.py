"""Bales, loose volume and weight, one into the other."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.measures.fill import (
    CUBIC_UM_PER_LITRE,
    Amount,
    Bale,
    FillRefused,
    amount_of,
    cubic_feet,
    cylinders_filled,
    litres,
    pounds,
)

# A cubic metre that weighs 100 kg, and 50 g a litre when it is shaken loose.
BALE = Bale(1_000_000, 1_000_000, 1_000_000, 100_000, loose_g_per_litre=50)


def test_a_weight_is_so_many_bales_and_twice_the_room_when_it_is_loose():
    there = amount_of(Decimal(250), "kg", BALE)
    assert there.bales == Decimal("2.5")
    assert litres(there.baled_um3) == 2_500
    assert litres(there.loose_um3) == 5_000
    assert there.lying_um3 == there.baled_um3


def test_loose_volume_is_so_much_weight_and_so_many_bales():
    there = amount_of(Decimal(500), "litre", BALE)
    assert (there.grams, there.bales) == (25_000, Decimal("0.25"))
    assert there.lying_um3 == 500 * CUBIC_UM_PER_LITRE


def test_without_a_bale_only_what_was_counted_is_known():
    assert amount_of(Decimal(2), "kg", None) == Amount(None, Decimal(2000), None, None)
    loose = amount_of(Decimal(3), "cu ft", None)
    assert (cubic_feet(loose.loose_um3), loose.grams) == (3, None)


@pytest.mark.parametrize(("unit", "bale"), [("each", BALE), ("bale", None)])
def test_a_unit_that_says_nothing_is_refused(unit, bale):
    with pytest.raises(FillRefused):
        amount_of(Decimal(1), unit, bale)


@pytest.mark.parametrize("sizes", [(0, 1, 1, 1), (1, 1, 1, 0)])
def test_a_bale_of_nothing_is_refused(sizes):
    with pytest.raises(FillRefused, match="more than nothing"):
        Bale(*sizes)


def test_loose_fill_that_weighs_nothing_is_refused():
    with pytest.raises(FillRefused, match="more than nothing"):
        Bale(1, 1, 1, 1, loose_g_per_litre=0)


def test_cylinders_go_by_weight_where_it_is_known_and_by_room_where_not():
    there, each = amount_of(Decimal(100), "kg", BALE), 20 * CUBIC_UM_PER_LITRE
    assert cylinders_filled(there, each, 80) == 62  # 1.6 kg each
    assert cylinders_filled(there, each, None) == 50  # a thousand litres at 20
    assert cylinders_filled(amount_of(Decimal(9), "kg", None), each, None) is None


def test_a_pound_is_453_59237_grams():
    assert pounds(Decimal("907.18474")) == 2


@given(st.integers(1, 100_000), st.integers(1, 400))
def test_weight_goes_to_bales_and_back(kilograms, weight_kg):
    bale = Bale(900_000, 450_000, 350_000, weight_kg * 1000)
    there = amount_of(Decimal(kilograms), "kg", bale)
    back = amount_of(there.bales, "bale", bale)
    assert abs(back.grams - kilograms * 1000) < Decimal("0.001")
