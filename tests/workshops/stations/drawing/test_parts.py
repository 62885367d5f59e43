from dataclasses import replace

import pytest

from inventory.measures.lengths import Units, inches
from tests.workshops.stations.drawing.measured import along_um, marked, parsed, words
from tests.workshops.stations.geometry.sheets import CRADLE, LEG, POST, STAND, STEM, WIRE
from workshops.stations.drawing.parts import draw_part
from workshops.stations.geometry.parts import Hole

A_HUNDREDTH_MM = 10  # micrometres
PARTS = [POST, *STAND.parts]


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.name)
@pytest.mark.parametrize("units", Units)
def test_every_mark_lies_where_the_sheet_says_to_a_hundredth(part, units):
    root = parsed(draw_part(part, units))
    shapes = marked(root, "um")
    assert len(shapes) == 2 + len(part.holes) + len(part.bends)
    for shape in shapes:
        assert abs(along_um(root, shape) - int(shape.get("data-um"))) < A_HUNDREDTH_MM


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.name)
def test_the_ends_are_drawn_as_far_apart_as_the_part_is_long(part):
    root = parsed(draw_part(part, Units.INCH))
    ends = {shape.get("data-edge"): along_um(root, shape) for shape in marked(root, "edge")}
    assert abs(ends["end-b"] - ends["end-a"] - part.length_um) < A_HUNDREDTH_MM


def test_holes_on_the_drawing_are_the_holes_of_the_sheet():
    root = parsed(draw_part(STEM, Units.INCH))
    drawn = sorted(
        (int(s.get("data-um")), int(s.get("data-diameter-um"))) for s in marked(root, "hole")
    )
    assert drawn == [(hole.from_end_um, hole.diameter_um) for hole in STEM.holes]


def test_a_hole_in_the_wrong_place_would_be_noticed():
    moved = replace(STEM, holes=(replace(STEM.holes[0], from_end_um=inches("5 1/64")),))
    root = parsed(draw_part(moved, Units.INCH))
    assert abs(along_um(root, marked(root, "hole")[0]) - STEM.holes[0].from_end_um) > A_HUNDREDTH_MM


def test_every_hole_has_a_dimension_line_of_its_length():
    root = parsed(draw_part(STEM, Units.INCH))
    scale = int(root.get("data-um-per-mm"))
    lines = marked(root, "dimension-um")
    spans = [(float(s.get("x2")) - float(s.get("x1"))) * scale for s in lines]
    wanted = [int(s.get("data-dimension-um")) for s in lines]
    assert wanted == [*STEM.pin_holes_um(), STEM.length_um]
    assert spans == pytest.approx(wanted, abs=A_HUNDREDTH_MM)


def test_lengths_are_spelled_in_the_shops_units():
    assert "32 in ± 1/16 in" in words(parsed(draw_part(STEM, Units.INCH)))
    assert "812.8 mm ± 1.6 mm" in words(parsed(draw_part(STEM, Units.MILLIMETRE)))


def test_holes_alike_share_one_call_out():
    said = words(parsed(draw_part(STEM, Units.INCH)))
    assert said.count("3 holes 7/16 in, through both walls, for the pin") == 1


def test_a_different_hole_gets_a_call_out_of_its_own():
    other = Hole(inches(25), inches("1/4"), through_both=False, name="for the tag")
    said = words(parsed(draw_part(replace(STEM, holes=(*STEM.holes, other)), Units.INCH)))
    assert "hole 1/4 in, through one wall, for the tag" in said


def test_a_bent_part_shows_its_angles_and_its_size_over_all():
    said = words(parsed(draw_part(CRADLE, Units.INCH)))
    assert said.count("40°") == said.count("bend 40°") == 2
    assert "Bent, inside radius 1 1/2 in:" in said


def test_a_wire_piece_shows_both_sizes_and_its_mesh():
    said = words(parsed(draw_part(WIRE, Units.INCH)))
    assert {"88 in ± 1/2 in", "36 in", "wire 0.080 in"} <= set(said)


def test_walls_are_told_in_thousandths_not_in_the_nearest_fraction():
    assert "wall 0.057 in" in words(parsed(draw_part(LEG, Units.INCH)))


def test_names_with_odd_characters_are_escaped():
    odd = replace(POST, name="Post <9> & 'co'", end_name="top & cap")
    assert "from the top & cap" in words(parsed(draw_part(odd, Units.INCH)))
