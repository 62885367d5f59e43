import json
from dataclasses import replace

import pytest

from inventory.engines.strict import ProblemRefused
from inventory.measures.lengths import inches
from tests.workshops.stations.geometry.sheets import (
    BOLTED,
    CYLINDER,
    FIT,
    MESH,
    POST,
    ROLL,
    STAND,
    STEM,
    TUBE_POST,
)
from workshops.stations.geometry.parts import Bend, Hole, PartRole, Section, SectionKind
from workshops.stations.geometry.sheet import Joint, LegsSpec, Sheet


@pytest.mark.parametrize("sheet", [CYLINDER, STAND, BOLTED], ids=lambda sheet: sheet.name)
def test_a_sheet_comes_back_from_json_as_it_went(sheet):
    assert Sheet.from_json(json.loads(json.dumps(sheet.to_json()))) == sheet


def test_an_unknown_key_is_refused_by_its_path():
    raw = CYLINDER.to_json()
    raw["parts"][0]["section"]["gauge"] = 14
    with pytest.raises(ProblemRefused, match=r"sheet\.parts\[0\]\.section\.gauge: unknown key"):
        Sheet.from_json(raw)


def test_a_wall_as_thick_as_half_the_tube_is_refused_with_its_path():
    raw = CYLINDER.to_json()
    raw["parts"][1]["section"]["wall_um"] = inches("5/8")
    with pytest.raises(ProblemRefused, match=r"parts\[1\]\.section: wall_um two walls"):
        Sheet.from_json(raw)


def test_a_rod_with_a_wall_is_refused():
    with pytest.raises(ValueError, match="wall_um has no meaning for round rod"):
        Section(SectionKind.ROUND_ROD, outside_um=6_350, wall_um=1_000)


def test_a_tube_without_a_wall_is_refused():
    with pytest.raises(ValueError, match="wall_um must be more than 0 for square tube"):
        Section(SectionKind.SQUARE_TUBE, outside_um=25_400)


def test_the_bore_is_the_outside_less_two_walls():
    assert TUBE_POST.inside_um == 44_450 - 2 * 2_110
    assert MESH.inside_um == 0


@pytest.mark.parametrize("angle", [0, -10, 181, 22.3])
def test_a_bend_that_no_drawing_can_show_is_refused(angle):
    with pytest.raises(ValueError, match="angle_deg"):
        Bend(100_000, angle, 10_000)


def test_a_hole_at_the_very_end_is_refused():
    with pytest.raises(ValueError, match="from_end_um must be more than 0"):
        Hole(0, 12_700)


def test_the_same_part_twice_is_refused_with_advice():
    with pytest.raises(ValueError, match="post-9 is on the sheet twice; use its count"):
        replace(CYLINDER, parts=(POST, POST, STEM), joints=())


def test_a_joint_onto_a_part_that_is_not_there_is_refused():
    with pytest.raises(ValueError, match=r"joints\[0\]\.onto: mast is not a part"):
        replace(CYLINDER, joints=(Joint("stem", "mast", 0, 0),))


def test_a_fit_into_a_part_that_is_not_there_is_refused():
    with pytest.raises(ValueError, match=r"fit\.outer: mast"):
        replace(CYLINDER, fit=replace(FIT, outer="mast"))


def test_a_ring_as_long_as_the_wire_is_refused():
    with pytest.raises(ValueError, match="ring_um the first turn must be shorter"):
        replace(ROLL, ring_um=ROLL.piece_length_um)


def test_two_legs_make_no_stand():
    with pytest.raises(ValueError, match="three legs or more"):
        LegsSpec("leg", 2, 20)


def test_a_bolted_head_has_joints_and_no_welds():
    assert BOLTED.welds() == ()
    assert len(CYLINDER.welds()) == len(BOLTED.joints) == 3


def test_parts_are_found_by_item_and_by_role():
    assert STAND.part("leg").count == 3
    assert [part.item for part in CYLINDER.parts_in_role(PartRole.STEM)] == ["stem"]
    with pytest.raises(KeyError):
        CYLINDER.part("leg")


def test_pin_holes_are_given_in_order_from_the_end():
    swapped = replace(STEM, holes=tuple(reversed(STEM.holes)))
    assert swapped.pin_holes_um() == (inches(5), inches(11), inches(17))
