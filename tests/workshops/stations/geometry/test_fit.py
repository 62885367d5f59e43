from dataclasses import replace

import pytest

from inventory.measures.lengths import feet, inches
from tests.workshops.stations.geometry.sheets import (
    CONDUIT,
    MESH,
    POST,
    ROD,
    STEM,
    TUBE_POST,
    TUBE_STEM,
)
from workshops.stations.geometry.fit import adjustment_um, height_settings, play_between


def test_play_shrinks_and_grows_by_a_tenth_of_both_walls():
    play = play_between(TUBE_STEM, TUBE_POST, 10)
    assert play.drawn_um == 44_450 - 2 * 2_110 - 31_750
    assert (play.least_um, play.most_um) == (play.drawn_um - 422, play.drawn_um + 422)


def test_a_square_stem_in_a_round_bore_needs_its_diagonal():
    square = replace(TUBE_STEM, outside_um=20_000, wall_um=2_000)
    assert play_between(square, CONDUIT, 0).drawn_um == CONDUIT.inside_um - 28_285


def test_a_rod_in_a_tube_needs_its_diameter():
    assert play_between(ROD, CONDUIT, 0).drawn_um == CONDUIT.inside_um - ROD.outside_um


@pytest.mark.parametrize(("inner", "outer"), [(TUBE_STEM, ROD), (MESH, TUBE_POST)])
def test_what_cannot_slide_is_refused(inner, outer):
    with pytest.raises(ValueError, match="only tube, conduit or rod slides"):
        play_between(inner, outer, 10)


def test_three_stem_holes_over_one_post_hole_give_three_heights():
    settings = height_settings(STEM, POST)
    assert [way.height_um for way in settings] == [inches(8), inches(14), inches(20)]
    assert [way.engaged_um for way in settings] == [inches(24), inches(18), inches(12)]
    assert adjustment_um(settings) == inches(12)


def test_a_setting_deeper_than_a_short_post_is_left_out():
    stub = replace(POST, length_um=inches(20))
    assert [way.height_um for way in height_settings(STEM, stub)] == [inches(14), inches(20)]


def test_without_pin_holes_there_is_no_setting():
    assert height_settings(replace(STEM, holes=()), POST) == ()
    assert adjustment_um(()) == 0


def test_a_longer_post_changes_no_height():
    assert height_settings(STEM, replace(POST, length_um=feet(11))) == height_settings(STEM, POST)
