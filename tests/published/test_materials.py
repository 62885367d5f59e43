"""Steel, wire, conduit, bales and rolls against handbook tables and suppliers' lists."""

from __future__ import annotations

from decimal import Decimal

import pytest

from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.engine.solve import solve
from inventory.measures.fill import Bale, amount_of, cubic_feet
from inventory.measures.lengths import feet, inches
from inventory.measures.steel import (
    CONDUITS,
    bale_cubic_feet,
    bale_pounds_per_cubic_foot,
    pieces_per_stick,
    round_rod_pounds_per_foot,
    round_tube_pounds_per_foot,
    square_tube_pounds_per_foot,
    steel_wire_diameter,
)


def rounded(value: Decimal, places: int) -> Decimal:
    return round(value, places)


@pytest.mark.parametrize(
    ("side", "wall", "listed", "trade"),
    [
        ("1", "0.065", "0.827", "0.826"),
        ("1", "0.083", "1.036", "1.035"),
        ("1", "0.120", "1.437", "1.436"),
        ("1.5", "0.065", "1.270", "1.269"),
        ("1.5", "0.083", "1.601", "1.600"),
        ("1.5", "0.120", "2.254", "2.252"),
    ],
)
def test_square_tube_weighs_what_the_sharp_corner_formula_says(side, wall, listed, trade):
    """Steel at 490 lb/cu ft (*from memory*), 4 t (b - t) x 3.4028; trade tables use 3.40."""
    weight = square_tube_pounds_per_foot(inches(side), inches(wall))
    assert rounded(weight, 3) == Decimal(listed)
    assert abs(weight / Decimal(trade) - 1) < Decimal("0.003")


@pytest.mark.parametrize(
    ("side", "wall", "listed"),
    [
        ("1", "0.100", "1.14"),
        ("1", "0.125", "1.35"),
        ("1.5", "0.100", "1.82"),
        ("1.5", "0.125", "2.21"),
        ("2", "0.125", "3.06"),
        ("3", "0.125", "4.76"),
        ("0.75", "0.083", "0.75"),
    ],
)
def test_a_suppliers_rounded_corners_weigh_up_to_a_tenth_less(side, wall, listed):
    """A steel centre's list of square tube with rounded corners (aciercentury-vente.com).

    The heaviest wall for its size (1 in x .125) is the furthest off, by 10.3 per cent.
    """
    over = square_tube_pounds_per_foot(inches(side), inches(wall)) / Decimal(listed) - 1
    assert Decimal("0") < over < Decimal("0.105")


@pytest.mark.parametrize(
    ("diameter", "listed"),
    [("1/4", "0.167"), ("5/16", "0.261"), ("3/8", "0.376"), ("1/2", "0.668")],
)
def test_round_rod_weighs_what_the_handbook_lists(diameter, listed):
    """Handbook table of round bars (*from memory*)."""
    assert rounded(round_rod_pounds_per_foot(inches(diameter)), 3) == Decimal(listed)


def test_round_rod_follows_the_rule_of_2_67_d_squared():
    """The rule 2.67 d^2 of the trade (reference.com)."""
    for diameter in (Decimal("0.25"), Decimal("0.375"), Decimal("0.5")):
        weight = round_rod_pounds_per_foot(inches(str(diameter)))
        assert abs(weight / (Decimal("2.67") * diameter**2) - 1) < Decimal("0.002")


@pytest.mark.parametrize(
    ("gauge", "listed"),
    [
        ("9", "0.1483"),
        ("10", "0.1350"),
        ("11", "0.1205"),
        ("12", "0.1055"),
        ("13", "0.0915"),
        ("14", "0.0800"),
        ("15", "0.0720"),
        ("16", "0.0625"),
        ("17", "0.0540"),
        ("18", "0.0475"),
    ],
)
def test_steel_wire_gauges_are_washburn_and_moen(gauge, listed):
    """Table of steel wire gauges, column Washburn & Moen (jgmes.com; sizes.com)."""
    assert steel_wire_diameter(gauge) == inches(listed)


@pytest.mark.parametrize(("gauge", "british"), [("16", "0.0640"), ("10", "0.1280")])
def test_british_gauge_is_another_size_for_the_same_number(gauge, british):
    """The same tables, column British standard wire gauge."""
    assert steel_wire_diameter(gauge) != inches(british)


@pytest.mark.parametrize(("gauge", "listed"), [(10, "0.1019"), (14, "0.0641"), (16, "0.0508")])
def test_american_wire_gauge_must_not_be_used_for_steel(gauge, listed):
    """AWG: d = .005 x 92^((36 - n) / 39) in (themodelmakersresource.co.uk); steel is thicker."""
    copper = Decimal(".005") * Decimal(92) ** (Decimal(36 - gauge) / 39)
    assert rounded(copper, 4) == Decimal(listed)
    assert steel_wire_diameter(str(gauge)) > inches(listed) * 12 // 10


@pytest.mark.parametrize(
    ("size", "outside", "inside", "wall"),
    [
        ("1/2", "0.706", "0.622", "0.042"),
        ("3/4", "0.922", "0.824", "0.049"),
        ("1", "1.163", "1.049", "0.057"),
        ("1 1/4", "1.510", "1.380", "0.065"),
        ("1 1/2", "1.740", "1.610", "0.065"),
        ("2", "2.197", "2.067", "0.065"),
    ],
)
def test_conduit_measures_what_the_maker_lists(size, outside, inside, wall):
    """Electrical metallic tubing, a maker's table (Cooper B-Line): OD, ID, wall."""
    conduit = next(conduit for conduit in CONDUITS if conduit.trade_size == size)
    assert (conduit.outside, conduit.inside) == (inches(outside), inches(inside))
    assert abs(conduit.wall - inches(wall)) <= 1


@pytest.mark.parametrize(("size", "listed"), [("1/2", 30), ("3/4", 46), ("1", 67)])
def test_a_hundred_feet_of_conduit_weigh_the_nominal_column(size, listed):
    """The same table, nominal pounds per 100 ft; its minimum column is 28.5, 43.5 and 64."""
    conduit = next(conduit for conduit in CONDUITS if conduit.trade_size == size)
    weight = 100 * round_tube_pounds_per_foot(conduit.outside, conduit.inside)
    assert rounded(weight, 0) == listed


@pytest.mark.parametrize(("size", "least"), [("1/2", "28.5"), ("3/4", "43.5"), ("1", "64")])
def test_the_least_weight_of_conduit_is_a_twentieth_below_its_nominal_sizes(size, least):
    """The same table, its minimum column; what we weigh is the nominal size, and says so."""
    conduit = next(conduit for conduit in CONDUITS if conduit.trade_size == size)
    weight = 100 * round_tube_pounds_per_foot(conduit.outside, conduit.inside)
    assert conduit.least_pounds == Decimal(least)
    assert Decimal("1.03") < weight / conduit.least_pounds < Decimal("1.07")


def test_a_bale_of_18_kg_fills_as_much_as_its_size_says_and_weighs_back():
    """The same bale through pounds and cubic feet (1 lb = 453.59237 g, agreement of 1959)."""
    bale = Bale(inches(36), inches(18), inches(14), 18_370)
    there = amount_of(Decimal("40.5"), "lb", bale)
    assert cubic_feet(bale.volume_um3) == Decimal("5.25")
    assert rounded(bale.pounds_per_cubic_foot, 2) == Decimal("7.71")
    assert rounded(there.bales, 3) == Decimal("1.000")


@pytest.mark.parametrize(("pounds_per_bale", "floor"), [("34.125", "6.5"), ("36.75", "7.0")])
def test_the_least_dense_building_bale_weighs_what_the_codes_come_to(pounds_per_bale, floor):
    """IRC app. S AS103.5 (6.5 lb/cu ft) and California H&S 18944.35 (7.0), as quoted."""
    density = bale_pounds_per_cubic_foot(Decimal(pounds_per_bale), Decimal("5.25"))
    assert density == Decimal(floor)


def test_a_two_string_bale_is_5_25_cubic_feet():
    """14 x 18 x 36 in, recomputed (9,072 cubic inches; biologyinsights.com gives the size)."""
    assert bale_cubic_feet(inches(14), inches(18), inches(36)) == Decimal("5.25")


def test_a_bale_of_40_5_pounds_is_7_71_pounds_a_cubic_foot():
    """The same bale at 40.5 lb; building codes for straw ask at least 6.5 (IRC app. S)."""
    density = bale_pounds_per_cubic_foot(Decimal("40.5"), Decimal("5.25"))
    assert rounded(density, 2) == Decimal("7.71")


@pytest.mark.parametrize(
    ("stick", "piece", "kerf", "pieces"),
    [(288, 24, 0, 12), (288, 24, "1/16", 11), (240, 18, "1/8", 13)],
)
def test_the_last_piece_needs_no_kerf(stick, piece, kerf, pieces):
    """n = floor((L + k) / (p + k)), derived and recomputed; the engine must agree."""
    width = inches(kerf) if kerf else 0
    assert pieces_per_stick(inches(stick), inches(piece), kerf=width) == pieces
    sawn = solve(
        CutProblem((Piece("rod", inches(piece), 100),), (Stick("bar", inches(stick), 1),), width)
    )
    assert sawn.made["rod"] == pieces


def test_rods_of_24_in_come_ten_sheared_and_nine_sawn_from_20_ft():
    """Common practice, no source: the shear takes nothing, a 1/8 in blade costs a rod."""
    assert pieces_per_stick(feet(20), inches(24)) == 10
    assert pieces_per_stick(feet(20), inches(24), kerf=inches("1/8")) == 9


def test_a_50_ft_roll_gives_seven_pieces_of_7_ft_and_a_foot_is_left():
    """Ohio DNR Division of Wildlife leaflet *Mallard Nest Cylinder* (scribd 243992155)."""
    plan = solve(CutProblem((Piece("wire", feet(7), 7),), (Stick("roll", feet(50)),)))
    assert pieces_per_stick(feet(50), feet(7)) == 7
    assert plan.stick_count == 1
    assert plan.runs[0].left_over == feet(1)


def test_a_50_ft_roll_gives_six_pieces_of_100_in_and_nothing_is_left():
    """A builder's recipe of 100 in a nest (duckhuntingchat.com, 2008)."""
    plan = solve(CutProblem((Piece("wire", inches(100), 6),), (Stick("roll", feet(50)),)))
    assert (plan.stick_count, plan.scrap) == (1, 0)


def test_a_100_ft_roll_in_88_in_pieces_leaves_56_in():
    """Common practice, no source: the drop that piles up."""
    plan = solve(CutProblem((Piece("wire", inches(88), 13),), (Stick("roll", feet(100)),)))
    assert plan.runs[0].left_over == inches(56)
