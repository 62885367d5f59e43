"""Weights, gauges and pieces: hand-checkable cases and what is refused."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as some

from inventory.measures.lengths import feet, inches
from inventory.measures.steel import (
    CONDUITS,
    GaugeRefused,
    bale_cubic_feet,
    bale_pounds_per_cubic_foot,
    conduit_of,
    pieces_per_stick,
    pounds,
    round_rod_pounds_per_foot,
    round_tube_pounds_per_foot,
    section_pounds_per_foot,
    square_tube_pounds_per_foot,
    steel_wire_diameter,
)


def test_a_solid_inch_bar_would_weigh_490_144ths_of_a_pound_a_foot():
    """A 2 in tube with a 1/2 in wall has 3 square inches of steel."""
    weight = square_tube_pounds_per_foot(inches(2), inches("1/2"))
    assert weight == 3 * Decimal(490) / 144


def test_a_round_tube_is_the_rod_less_its_bore():
    whole = round_rod_pounds_per_foot(inches(2))
    tube = round_tube_pounds_per_foot(inches(2), inches(1))
    assert abs(tube - whole * 3 / 4) < Decimal("1e-20")


def test_a_length_weighs_its_share_of_a_foot():
    assert pounds(Decimal("1.25"), feet(20)) == Decimal("25.00")
    assert pounds(Decimal("1.20"), inches(3)) == Decimal("0.30")


@pytest.mark.parametrize(("side", "wall"), [(10, 5), (10, 6), (10, 0), (10, -1)])
def test_a_tube_whose_walls_meet_is_refused(side: int, wall: int):
    with pytest.raises(ValueError, match="wall"):
        square_tube_pounds_per_foot(side, wall)


def test_a_gauge_is_read_with_or_without_the_half():
    assert steel_wire_diameter(" 16 ") == inches("0.0625")
    assert steel_wire_diameter("12.5") == inches("0.0985")


@pytest.mark.parametrize("gauge", ["", "8", "19", "16 AWG", "0.0625"])
def test_any_other_gauge_is_refused_with_the_known_ones(gauge: str):
    with pytest.raises(GaugeRefused, match=r"known: 9, 10, .* 18"):
        steel_wire_diameter(gauge)


def test_a_foot_cube_of_straw_is_a_cubic_foot():
    assert bale_cubic_feet(feet(1), feet(1), feet(1)) == 1
    assert bale_pounds_per_cubic_foot(Decimal(42), Decimal(6)) == 7


def test_conduits_grow_with_their_trade_size():
    assert [c.outside for c in CONDUITS] == sorted(c.outside for c in CONDUITS)
    assert all(0 <= c.outside - c.inside - 2 * c.wall <= 1 for c in CONDUITS)


def test_a_piece_as_long_as_the_stick_comes_off_it_once():
    assert pieces_per_stick(100, 100, kerf=3) == 1
    assert pieces_per_stick(100, 101, kerf=3) == 0


def test_trim_is_lost_at_both_ends():
    assert pieces_per_stick(100, 20, kerf=0, trim=10) == 4
    assert pieces_per_stick(10, 20, kerf=0, trim=10) == 0


@given(some.integers(1, 9000), some.integers(1, 900), some.integers(0, 30), some.integers(0, 60))
def test_the_pieces_fit_and_one_more_does_not(stick: int, piece: int, kerf: int, trim: int):
    count = pieces_per_stick(stick, piece, kerf=kerf, trim=trim)
    needed = count * piece + max(0, count - 1) * kerf
    assert count == 0 or needed <= stick - 2 * trim
    assert (count + 1) * piece + count * kerf > stick - 2 * trim


@pytest.mark.parametrize(
    ("shape", "outside", "wall", "same"),
    [
        ("square_tube", "2", "1/8", square_tube_pounds_per_foot(inches(2), inches("1/8"))),
        ("round_rod", "3/8", "0.001", round_rod_pounds_per_foot(inches("3/8"))),
        ("conduit", "0.706", "0.042", round_tube_pounds_per_foot(inches("0.706"), inches("0.622"))),
        ("wire_mesh", "1", "1/8", None),
        ("square_tube", "1", "1/2", None),
    ],
)
def test_a_section_is_weighed_by_its_name_or_not_at_all(shape, outside, wall, same):
    weight = section_pounds_per_foot(shape, inches(outside), inches(wall))
    # A wall of half a difference of diameters is rounded by a micrometre.
    assert weight == same or abs(weight - same) < Decimal("0.001")


def test_conduit_is_known_by_its_measures():
    assert conduit_of(inches("0.922"), inches("0.049")).trade_size == "3/4"
    assert conduit_of(inches("1.5"), inches("0.049")) is None
