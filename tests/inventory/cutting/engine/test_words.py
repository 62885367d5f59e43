"""A cut list in words."""

from __future__ import annotations

from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.engine.solve import solve
from inventory.measures.lengths import Units, feet, inches
from tests.inventory.cutting.engine.some import stems_and_bars


def test_a_proven_list_says_so_and_what_it_saves():
    assert solve(stems_and_bars()).explain() == (
        "Take 65 × 20 ft; 2 settings of the stop block.",
        "Nothing goes back to the rack; 50 ft becomes chips and scrap.",
        "No plan for these pieces uses less: proven.",
        "Cutting set by set would take 75 sticks, 1500 ft of metal; "
        "this list takes 65, 200 ft less.",
    )


def test_a_piece_longer_than_every_stick_is_named_with_the_metal_missing():
    problem = CutProblem((Piece("post", feet(8), 2),), (Stick("drop", feet(6), 4),), inches("1/8"))
    said = solve(problem).explain()
    assert said[0] == "2 × post (96 in) cannot be cut: every stick here is too short for it."
    assert said[1].startswith("16 ft 1/4 in of metal is missing in all")
    assert said[-1] == "Nothing is cut."


def test_sticks_that_run_out_are_named():
    problem = stems_and_bars(3, sticks=(Stick("20 ft", feet(4), 3),))
    said = solve(problem).explain()
    assert any("cannot be cut: the sticks run out." in line for line in said)


def test_lengths_are_told_in_the_shops_units():
    said = solve(stems_and_bars(keep_length=inches(12), sets=3)).explain(Units.MILLIMETRE)
    assert any("Back to the rack: 1 × " in line and " mm" in line for line in said)
    assert not any(" in of metal" in line for line in said)


def test_equal_numbers_of_sticks_save_nothing():
    said = solve(stems_and_bars(1)).explain()
    assert all("set by set" not in line or "saves nothing" in line for line in said)


def test_one_kind_of_piece_is_not_compared_with_sets():
    problem = CutProblem((Piece("rod", feet(2), 20, 2),), (Stick("20 ft", feet(20)),))
    assert not any("set by set" in line for line in solve(problem).explain())


def test_drops_that_read_alike_are_counted_together():
    """100 in less 30 in and 100 in and a hair less 30 in both read 70 in."""
    sticks = (Stick("a", inches(100), 1), Stick("b", inches(100) + 10, 1))
    pieces = (Piece("p", inches(30), 1), Piece("q", inches(80), 1))
    problem = CutProblem(pieces, sticks, keep_length=inches(15))
    said = " ".join(solve(problem).explain())
    assert "Back to the rack: 1 × 70 in, 1 × 20 in" in said
    twice = CutProblem((Piece("p", inches(60), 2),), sticks, keep_length=inches(15))
    assert "Back to the rack: 2 × 40 in" in " ".join(solve(twice).explain())
