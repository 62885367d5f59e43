"""The nest cylinder as it is commonly built: geometry against published and trade figures."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from inventory.measures.lengths import Units, feet, inches
from workshops.stations.drawing.parts import draw_part
from workshops.stations.drawing.roll_section import draw_roll_section
from workshops.stations.drawing.set_view import draw_set
from workshops.stations.geometry.fit import adjustment_um, height_settings, play_between
from workshops.stations.geometry.limits import SheetLimits
from workshops.stations.geometry.parts import Hole, Part, PartRole, Section, SectionKind
from workshops.stations.geometry.roll import (
    diameter_um,
    hog_rings_um,
    layer_that_closes_um,
    outer_turn_um,
    pieces_from_roll,
    shape_of,
)
from workshops.stations.geometry.sheet import FitSpec, LegsSpec, RollSpec, Sheet
from workshops.stations.geometry.volumes import cubic_feet, fill_of, litres, ring_space_um3
from workshops.stations.geometry.warnings import warnings_for

PIN = Hole(inches(8), inches("1/2"), is_pin=True)
STEM_PINS = (
    Hole(inches(6), inches("1/2"), is_pin=True),
    Hole(inches(18), inches("1/2"), is_pin=True),
)
LIMITS = SheetLimits(max_ring_diameter_um=inches(12), min_wire_um=inches("0.0625"))


def square(side: str, wall: str) -> Section:
    return Section(SectionKind.SQUARE_TUBE, outside_um=inches(side), wall_um=inches(wall))


STEM_TUBE = square("1", "0.065")
POST_TUBE = square("1 1/2", "0.083")
ROD = Section(SectionKind.ROUND_ROD, outside_um=inches("1/4"))
WIRE = Section(
    SectionKind.WIRE_MESH, mesh_long_um=inches(2), mesh_short_um=inches(1), wire_um=1_588
)


def post(length_um: int = feet(8)) -> Part:
    return Part("Post", "post", PartRole.POST, POST_TUBE, length_um, (PIN,), end_name="top")


def stem() -> Part:
    return Part("Stem", "stem", PartRole.STEM, STEM_TUBE, inches(30), STEM_PINS)


def roll(**changes: int) -> RollSpec:
    sizes = {
        "piece_length_um": feet(7), "width_um": feet(3), "mesh_long_um": inches(2),
        "mesh_short_um": inches(1), "wire_um": inches("0.0625"), "ring_um": inches(34),
        "layer_um": inches(2), "rings_min": 8, "rings_max": 12, "fill_percent": 67,
    }  # fmt: skip
    return RollSpec(**{**sizes, **changes})


def sheet(spec: RollSpec) -> Sheet:
    bar = Part("Bar", "bar", PartRole.BAR, STEM_TUBE, inches(18))
    rod = Part("Cradle rod", "rod", PartRole.CRADLE_ROD, ROD, inches(20), count=2)
    wire = Part("Wire", "wire", PartRole.WIRE, WIRE, feet(7), width_um=feet(3))
    fit = FitSpec("stem", "post", inches("1/16"), inches("1/2"))
    return Sheet("As built", "1", "A", (post(), stem(), bar, rod, wire), (), spec, fit)


def fields(spec: RollSpec) -> list[str]:
    return [found.field for found in warnings_for(sheet(spec), LIMITS, Units.INCH)]


def printed(svg: str) -> set[str]:
    """The texts of a drawing."""
    return set(re.findall(r"<text[^>]*>(.*?)</text>", svg))


def test_a_first_turn_of_34_in_is_10_8_in_across_inside():
    """Common practice, no source; 34 / pi worked by hand."""
    assert shape_of(roll()).inside_um == pytest.approx(inches("10.8225"), abs=10)


def test_the_outer_turn_over_2_in_of_straw_is_46_6_in_around():
    """Common practice, no source; 34 + 4 pi worked by hand."""
    assert shape_of(roll()).outer_turn_um == pytest.approx(inches("46.5664"), abs=10)


def test_of_the_remaining_50_in_some_3_4_in_overlap():
    """Common practice, no source; 84 - 34 - 46.566 worked by hand."""
    spec = roll()
    assert spec.piece_length_um - spec.ring_um == inches(50)
    assert shape_of(spec).overlap_um == pytest.approx(inches("3.4336"), abs=10)


def test_the_whole_cylinder_is_14_8_in_across():
    """Common practice, no source; 10.82 + 2 x 2 in."""
    assert shape_of(roll()).outside_um == pytest.approx(inches("14.8225"), abs=10)


@pytest.mark.parametrize(("wall", "drawn", "least"), [("0.083", "0.334", "0.3174"),
                                                      ("0.120", "0.260", "0.236")])  # fmt: skip
def test_a_1_in_stem_slides_in_a_1_5_in_post_of_either_wall(wall, drawn, least):
    """Common practice, no source (sizes); 1.5 - 2 x wall - 1, the wall 10 % thicker, by hand."""
    play = play_between(STEM_TUBE, square("1 1/2", wall), 10)
    assert play.slides()
    assert play.drawn_um == inches(drawn)
    assert play.least_um == pytest.approx(inches(least), abs=2)


def test_stem_holes_at_6_and_18_in_give_12_in_of_height():
    """Common practice, no source."""
    settings = height_settings(stem(), post())
    assert adjustment_um(settings) == inches(12)
    assert [way.height_um for way in settings] == [inches(4), inches(16)]


def test_the_10_ft_post_for_deeper_water_gives_the_same_heights():
    """Common practice, no source."""
    assert height_settings(stem(), post(feet(10))) == height_settings(stem(), post())


def test_the_trade_sheet_has_nothing_to_mend():
    """Common practice, no source: all parts together under a 12 in limit and 16 gauge."""
    assert warnings_for(sheet(roll()), LIMITS, Units.INCH) == ()


def test_a_13_in_ring_is_warned_about():
    """Common practice, no source: never over 12 in."""
    assert "roll.ring_um" in fields(roll(ring_um=inches("40.84"), piece_length_um=feet(8)))


def test_a_12_in_ring_is_not_warned_about():
    """Common practice, no source: 12 in is the limit itself; 37.699 in around is 12.000."""
    assert "roll.ring_um" not in fields(roll(ring_um=inches("37.699"), piece_length_um=feet(8)))


@pytest.mark.parametrize(("gauge", "wire", "is_light"), [
    (14, "0.0800", False), (16, "0.0625", False), (17, "0.0540", True), (18, "0.0475", True),
])  # fmt: skip
def test_wire_lighter_than_16_gauge_is_warned_about(gauge, wire, is_light):
    """Common practice, no source (the rule); steel wire gauge diameters: jgmes.com table
    "SWG (U.S.)", sizes.com."""
    assert ("roll.wire_um" in fields(roll(wire_um=inches(wire)))) is is_light


def test_american_wire_gauge_16_is_not_steel_wire_gauge_16():
    """AWG d = .005 x 92^((36 - n) / 39) gives .0508: themodelmakersresource.co.uk. Taken for
    steel wire it must fall under the 16 gauge rule, which is why sheets keep diameters."""
    awg = 0.005 * 92 ** ((36 - 16) / 39)
    assert awg == pytest.approx(0.0508, abs=5e-5)
    assert "roll.wire_um" in fields(roll(wire_um=round(awg * 25_400)))


def test_straw_for_one_cylinder_is_1_68_cubic_feet():
    """Common practice, no source (sizes); pi x 12.8225 x 2 x 36 = 2900.4 cubic inches by hand."""
    assert cubic_feet(fill_of(roll()).straw_um3) == pytest.approx(2900.4 / 1728, rel=1e-4)


def test_two_thirds_of_the_inside_is_1_28_cubic_feet_of_hay():
    """Common practice, no source (sizes); pi / 4 x 10.8225^2 x 36 x .67 by hand."""
    assert cubic_feet(fill_of(roll()).hay_um3) == pytest.approx(3311.7 * 0.67 / 1728, rel=1e-4)
    assert litres(fill_of(roll()).hay_um3) == pytest.approx(36.4, abs=0.05)


@pytest.mark.parametrize("count", [8, 12])
def test_8_to_12_hog_rings_sit_from_end_to_end_of_the_3_ft_edge(count):
    """Common practice, no source: 8 to 12; even spaces of 36 / 7 and 36 / 11 in by hand."""
    spec = roll()
    assert spec.rings_min <= count <= spec.rings_max
    rings = hog_rings_um(spec.width_um, count)
    assert (len(rings), rings[0], rings[-1]) == (count, 0, inches(36))
    gaps = {second - first for first, second in pairwise(rings)}
    assert max(abs(gap - inches(36) / (count - 1)) for gap in gaps) <= 1


def test_three_10_ft_conduit_legs_replace_the_post():
    """Common practice, no source; conduit sizes: trade size 1, Cooper B-Line table."""
    conduit = Section(SectionKind.CONDUIT, outside_um=inches("1.163"), wall_um=inches("0.057"))
    leg = Part("Leg", "leg", PartRole.LEG, conduit, feet(10), count=3, stock_length_um=feet(10))
    stand = Sheet("Stand", "2", "A", (leg, stem()), legs=LegsSpec("leg", 3, 20))
    assert warnings_for(stand, LIMITS, Units.INCH) == ()
    assert conduit.inside_um == pytest.approx(inches("1.049"), abs=2)


def test_the_drawings_of_post_and_stem_print_length_and_holes():
    """Common practice, no source: post 8 ft, 1/2 in through both walls 8 in below its top; stem
    30 in with holes at 6 and 18 in."""
    drawn_post = printed(draw_part(post(), Units.INCH))
    drawn_stem = printed(draw_part(stem(), Units.INCH))
    assert {"96 in (8 ft)", "8 in", "from the top"} <= drawn_post
    assert "hole 1/2 in, through both walls, for the pin" in drawn_post
    assert {"30 in", "6 in", "18 in"} <= drawn_stem


def test_the_drawing_of_the_set_counts_its_parts():
    """Common practice, no source: one stem of 30 in, one bar of 18 in, two rods of 20 in, wire
    7 ft by 3 ft, one post of 8 ft."""
    words = printed(draw_set(sheet(roll()), Units.INCH))
    assert {"1 × Post", "1 × Stem", "1 × Bar", "2 × Cradle rod", "1 × Wire"} <= words
    assert {"96 in (8 ft)", "30 in", "18 in", "20 in", "84 in (7 ft) × 36 in"} <= words


def test_the_drawing_of_the_roll_prints_ring_turn_overlap_and_rings():
    """Common practice, no source; to the 32nd of an inch: 10 13/16, 46 9/16, 3 7/16."""
    words = " ".join(printed(draw_roll_section(roll(), Units.INCH)))
    for figure in ("10 13/16 in inside", "Outer turn: 46 9/16 in", "Overlap 3 7/16 in, 8 to 12"):
        assert figure in words


def test_a_hole_off_the_end_of_the_post_is_warned_about():
    """Common practice, no source: a hole drilled 8 in beyond the top holds no pin."""
    off = replace(post(), holes=(Hole(feet(8) + inches(8), inches("1/2"), is_pin=True),))
    drawn = sheet(roll())
    wrong = replace(drawn, parts=(off, *drawn.parts[1:]))
    found = {each.field for each in warnings_for(wrong, LIMITS, Units.INCH)}
    assert "parts[0].holes[0].from_end_um" in found


def test_the_agency_cylinder_of_12_in_inside_14_in_takes_0_851_cubic_feet():
    """Zenner, LaGrange and Hancock 1992 (Iowa DNR, on the NPWRC pages): 12 in cylinder inside
    a 14 in one, here 3 ft long; the space between, pi / 4 (14^2 - 12^2) 36 by hand."""
    space = ring_space_um3(inches(12), inches(14), feet(3))
    assert cubic_feet(space) == pytest.approx(0.851, abs=5e-4)


def test_a_50_ft_roll_makes_7_nests_of_7_ft_with_1_ft_left():
    """Ohio DNR Division of Wildlife, leaflet "Mallard Nest Cylinder"."""
    assert pieces_from_roll(feet(50), feet(7)) == 7
    assert feet(50) - 7 * feet(7) == feet(1)


def test_the_leaflets_36_in_wrap_is_11_46_in_and_not_12():
    """Geometry of the Ohio leaflet: it says 36 in is rolled to 12 in across."""
    assert diameter_um(feet(3)) == pytest.approx(inches("11.46"), abs=inches("0.005"))


def test_the_leaflets_48_in_outer_wrap_is_15_28_in():
    """Geometry of the Ohio leaflet: 4 ft go around the hay."""
    assert diameter_um(feet(4)) == pytest.approx(inches("15.28"), abs=inches("0.005"))


def test_the_leaflets_pieces_leave_room_for_1_91_in_of_hay():
    """Geometry of the Ohio leaflet, which says about 2 in."""
    layer = layer_that_closes_um(feet(7), feet(3))
    assert layer == pytest.approx(inches("1.91"), abs=inches("0.005"))
    assert outer_turn_um(feet(3), layer) == pytest.approx(feet(4), abs=4)


def test_pieces_of_100_in_use_a_50_ft_roll_whole():
    """A builder's recipe on duckhuntingchat.com, 2008: 6 per roll, nothing left."""
    assert pieces_from_roll(feet(50), inches(100)) == 6
    assert feet(50) - 6 * inches(100) == 0
