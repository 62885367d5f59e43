import math
from dataclasses import replace

import pytest

from inventory.measures.lengths import inches
from tests.workshops.stations.geometry.sheets import BAR, CRADLE
from workshops.stations.geometry.bending import runs_of, spot_at, taken_um
from workshops.stations.geometry.parts import Bend, Turn


def test_a_straight_part_is_one_run():
    runs = runs_of(BAR)
    assert len(runs) == 1
    assert spot_at(runs, BAR.length_um).x_um == BAR.length_um


def test_the_runs_add_up_to_the_length_of_the_part():
    runs = runs_of(CRADLE)
    assert sum(run.end_um - run.start_um for run in runs) == pytest.approx(CRADLE.length_um)
    assert len(runs) == 5


def test_two_left_bends_turn_the_far_end_by_their_sum():
    assert math.degrees(spot_at(runs_of(CRADLE), CRADLE.length_um).heading) == pytest.approx(80)


def test_a_left_and_a_right_bend_bring_the_part_back_parallel():
    bends = (CRADLE.bends[0], replace(CRADLE.bends[1], turn=Turn.RIGHT))
    end = spot_at(runs_of(replace(CRADLE, bends=bends)), CRADLE.length_um)
    assert end.heading == pytest.approx(0)
    assert end.y_um > 0


def test_a_right_angle_ends_square_on():
    bend = Bend(inches(10), 90, 50_000)
    part = replace(CRADLE, bends=(bend,))
    radius, taken = 50_000 + CRADLE.section.outside_um / 2, taken_um(bend, part)
    end = spot_at(runs_of(part), part.length_um)
    assert end.x_um == pytest.approx(inches(10) - taken / 2 + radius)
    assert end.y_um == pytest.approx(radius + part.length_um - inches(10) - taken / 2)
