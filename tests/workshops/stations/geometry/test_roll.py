from dataclasses import replace

import pytest

from inventory.measures.lengths import inches
from inventory.measures.rolls import left_on_roll_um
from tests.workshops.stations.geometry.sheets import ROLL
from workshops.stations.geometry.roll import (
    hog_rings_um,
    layer_that_closes_um,
    outer_turn_um,
    pieces_from_roll,
    shape_of,
    spiral_um,
)


def test_the_outer_turn_grows_by_two_pi_layers_whatever_the_ring():
    growth = {outer_turn_um(ring, 50_000) - ring for ring in (400_000, 863_600, 1_000_000)}
    assert growth == {314_159}


def test_ring_outer_turn_and_overlap_make_up_the_piece():
    shape = shape_of(ROLL)
    assert ROLL.ring_um + shape.outer_turn_um + shape.overlap_um == ROLL.piece_length_um


def test_the_layer_that_closes_leaves_no_overlap():
    layer = layer_that_closes_um(ROLL.piece_length_um, ROLL.ring_um)
    assert abs(shape_of(replace(ROLL, layer_um=layer)).overlap_um) <= 4  # layer was rounded


def test_a_short_piece_has_a_negative_overlap():
    assert shape_of(replace(ROLL, piece_length_um=inches(75))).overlap_um < 0


def test_the_tape_formula_is_near_the_spiral():
    args = (inches(4), inches(20), inches("1/4"))
    assert abs(left_on_roll_um(*args) / spiral_um(*args) - 1) < 1e-3


@pytest.mark.parametrize("sizes", [(0, 10, 1), (10, 10, 1), (5, 10, 0)])
def test_a_roll_that_is_none_is_refused(sizes):
    with pytest.raises(ValueError, match="larger outside"):
        spiral_um(*sizes)


def test_hog_rings_stand_at_both_ends_and_even_between():
    assert hog_rings_um(900_000, 4) == (0, 300_000, 600_000, 900_000)
    assert hog_rings_um(900_000, 1) == (450_000,)


def test_the_last_short_end_of_a_roll_is_no_piece():
    assert pieces_from_roll(inches(1200), inches(88)) == 13
