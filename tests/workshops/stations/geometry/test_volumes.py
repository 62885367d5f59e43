from dataclasses import replace

import pytest

from inventory.measures.lengths import feet
from tests.workshops.stations.geometry.sheets import ROLL
from workshops.stations.geometry.volumes import (
    CUBIC_UM_PER_CUBIC_FOOT,
    cubic_feet,
    cylinders_from_bale,
    fill_of,
    grams,
    litres,
    ring_space_um3,
)


def test_a_cubic_foot_is_a_foot_cubed():
    assert feet(1) ** 3 == CUBIC_UM_PER_CUBIC_FOOT
    assert litres(CUBIC_UM_PER_CUBIC_FOOT) == pytest.approx(28.316846592)


def test_half_the_fill_takes_half_the_hay_and_the_same_straw():
    full, half = (fill_of(replace(ROLL, fill_percent=percent)) for percent in (100, 50))
    assert half.hay_um3 == full.hay_um3 // 2
    assert half.straw_um3 == full.straw_um3


def test_straw_and_full_hay_make_up_the_whole_outer_cylinder():
    full = fill_of(replace(ROLL, fill_percent=100))
    whole = ring_space_um3(0, 378_227, ROLL.width_um)  # 35 in / pi + 2 layers
    assert full.straw_um3 + full.hay_um3 == pytest.approx(whole, rel=1e-5)


def test_weight_follows_volume():
    assert grams(2 * 10**15, 90) == 180


def test_a_bale_fills_whole_cylinders_only():
    bale = round(5.25 * CUBIC_UM_PER_CUBIC_FOOT)
    assert cylinders_from_bale(bale, fill_of(ROLL).straw_um3) == 3
    assert 1.5 < cubic_feet(fill_of(ROLL).straw_um3) < 1.75
