from dataclasses import replace

import pytest

from inventory.measures.lengths import Units, feet, inches
from tests.workshops.stations.geometry.sheets import CRADLE, CYLINDER, POST, STAND, STEM
from workshops.stations.geometry.limits import SheetLimits
from workshops.stations.geometry.parts import Bend, Hole, Turn
from workshops.stations.geometry.warnings import CHECKS, warnings_for

CLUB = SheetLimits(
    max_ring_diameter_um=inches("11 1/2"), min_wire_um=inches("5/64"), max_mesh_um=inches(2),
    min_overlap_um=inches(1), min_metal_um=inches(1), min_engaged_um=inches(10),
)  # fmt: skip


def warned(sheet, limits=CLUB, units=Units.INCH):
    return warnings_for(sheet, limits, units)


def with_part(part):
    return replace(
        CYLINDER, parts=tuple(part if p.item == part.item else p for p in CYLINDER.parts)
    )


def with_roll(**changes):
    return replace(CYLINDER, roll=replace(CYLINDER.roll, **changes))


@pytest.mark.parametrize("sheet", [CYLINDER, STAND], ids=lambda sheet: sheet.name)
def test_a_sound_sheet_has_nothing_to_mend(sheet):
    assert warned(sheet, replace(CLUB, min_engaged_um=inches(8))) == ()


def test_without_club_rules_a_wide_ring_of_thin_wire_is_nobodys_business():
    wide = with_roll(ring_um=inches(40), piece_length_um=inches(100), wire_um=900)
    fields = {found.field for found in warned(wide, SheetLimits())}
    assert not fields & {"roll.ring_um", "roll.wire_um"}


def test_a_wide_ring_is_told_where_to_close_it():
    found = warned(with_roll(ring_um=inches(39)))[0]
    assert found.field == "roll.ring_um"
    assert found.sentence == (
        "The first turn is 12 13/32 in across inside and the club's limit is 11 1/2 in: close it"
        " at 36 1/8 in around or less."
    )


def test_closing_the_ring_as_advised_ends_the_warning():
    assert not [w for w in warned(with_roll(ring_um=inches("36 1/8"))) if w.field == "roll.ring_um"]


def test_thin_wire_is_told_in_thousandths():
    found = next(w for w in warned(with_roll(wire_um=1_626)) if w.field == "roll.wire_um")
    assert "0.064 in thick" in found.sentence
    assert "0.078 in or more" in found.sentence


def test_an_open_mesh_is_warned_about():
    assert warned(with_roll(mesh_long_um=inches(4)))[0].field == "roll.mesh_long_um"


def test_a_short_wire_piece_says_how_much_longer():
    found = next(w for w in warned(with_roll(piece_length_um=inches(80))) if "piece_l" in w.field)
    assert "ends 1 25/32 in before it closes" in found.sentence
    assert "cut the piece 2 25/32 in longer" in found.sentence


def test_too_little_overlap_is_told_apart_from_missing_wire():
    found = next(w for w in warned(with_roll(piece_length_um=inches(82))) if "piece_l" in w.field)
    assert "only 7/32 in of wire is left over it" in found.sentence


def test_a_wire_part_that_differs_from_the_roll_is_named():
    found = warned(with_roll(width_um=inches(30)))
    assert [w.field for w in found] == ["parts[4].width_um"]


def test_a_hole_off_the_part_is_warned_about_and_a_hole_on_it_is_not():
    drilled = replace(STEM, holes=(*STEM.holes, Hole(inches(32), inches("1/4"))))
    assert [w.field for w in warned(with_part(drilled))] == ["parts[1].holes[3].from_end_um"]


def test_a_hole_wider_than_its_stock_is_warned_about():
    drilled = replace(POST, holes=(*POST.holes, Hole(inches(40), inches(2))))
    assert [w.field for w in warned(with_part(drilled))] == ["parts[0].holes[1].diameter_um"]


def test_a_hole_near_the_end_says_how_much_metal_is_left():
    drilled = replace(STEM, holes=(*STEM.holes, Hole(inches("31 1/2"), inches("1/4"))))
    assert "3/8 in of metal is left" in warned(with_part(drilled))[0].sentence


def test_a_part_longer_than_its_stick_is_warned_about():
    assert "order longer stock" in warned(with_part(replace(POST, length_um=feet(21))))[0].sentence


def thick_post(wall_um):
    return with_part(replace(POST, section=replace(POST.section, wall_um=wall_um)))


def test_a_stem_that_binds_only_at_the_thick_end_of_the_wall_is_told_so():
    found = warned(thick_post(6_000))
    assert "binds where the wall is 10 in a hundred thicker" in found[0].sentence


def test_a_stem_larger_than_the_bore_never_slides():
    assert "never slides" in warned(thick_post(7_000))[0].sentence


def test_less_play_than_the_sheet_asks_for_is_told():
    tight = replace(CYLINDER, fit=replace(CYLINDER.fit, clearance_um=inches("3/8")))
    assert "0.334 in of play and needs 0.375 in" in warned(tight)[0].sentence


def test_the_clubs_rule_for_play_counts_when_it_asks_for_more_than_the_sheet():
    found = warned(CYLINDER, replace(CLUB, min_clearance_um=inches("1/2")))
    assert "needs 0.500 in" in found[0].sentence


def test_a_stem_without_pin_holes_has_no_height():
    assert "No pin hole of Stem" in warned(with_part(replace(STEM, holes=())))[0].sentence


def test_a_pin_thicker_than_its_hole_and_a_hole_in_one_wall_are_told_apart():
    hole = replace(POST.holes[0], diameter_um=inches("5/16"), through_both=False)
    fields = [w.field for w in warned(with_part(replace(POST, holes=(hole,))))]
    assert fields == ["parts[0].holes[0].diameter_um", "parts[0].holes[0].through_both"]


def test_a_stem_that_hardly_reaches_in_is_warned_about():
    found = warned(CYLINDER, replace(CLUB, min_engaged_um=inches(14)))
    assert "reaches 12 in into Post" in found[0].sentence


@pytest.mark.parametrize(
    ("at", "words"),
    [("1/2", "runs into the left end"), ("21 1/2", "far end"), (15, "the bend at 14 in")],
)
def test_bends_that_do_not_fit_are_told_why(at, words):
    bend = Bend(inches(at), 60, inches("1 1/2"), Turn.LEFT)
    bends = (bend, Bend(inches(14), 20, inches(1))) if at == 15 else (bend,)
    sentences = " ".join(w.sentence for w in warned(with_part(replace(CRADLE, bends=bends))))
    assert words in sentences


def test_a_bend_over_a_hole_is_warned_about():
    drilled = replace(CRADLE, holes=(Hole(inches("7 1/4"), 3_000),))
    assert "lies over the hole at 7 1/4 in" in warned(with_part(drilled))[0].sentence


def test_a_weld_beyond_the_end_of_the_bar_is_warned_about():
    far = replace(CYLINDER.joints[0], at_um=inches(21))
    found = warned(replace(CYLINDER, joints=(far,)))
    assert [w.field for w in found] == ["joints[0].at_um"]


def test_every_check_is_in_the_list_once():
    assert len({check.__name__ for check in CHECKS}) == len(CHECKS) == 13


def test_a_negative_limit_is_refused():
    with pytest.raises(ValueError, match="min_wire_um must be more than 0, or left out"):
        SheetLimits(min_wire_um=-1)
