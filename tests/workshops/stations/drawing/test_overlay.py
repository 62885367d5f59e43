"""One revision drawn over another: what moved is marked, numbered and said."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.measures.lengths import Units, inches
from tests.examples import examples
from tests.workshops.stations.drawing.measured import (
    SVG,
    along_um,
    marked,
    off_the_sheet,
    over_each_other,
    parsed,
    words,
)
from tests.workshops.stations.drawing.test_any_sheet import some_parts, some_units
from tests.workshops.stations.geometry.sheets import CRADLE, CYLINDER, JOINTS, STEM, WIRE
from workshops.stations.drawing.canvas import OLD_GREY
from workshops.stations.drawing.moved import moved_on
from workshops.stations.drawing.overlay import draw_overlay
from workshops.stations.geometry.parts import Hole
from workshops.stations.geometry.sheet import Sheet

A_HUNDREDTH_MM = 10  # micrometres
NEXT = replace(CYLINDER, revision="D")
LOWER = replace(
    STEM, length_um=inches(30),
    holes=(STEM.holes[0], replace(STEM.holes[1], from_end_um=inches("11 1/2")),
           Hole(inches(25), inches("1/4"), through_both=False)),
)  # fmt: skip
STEEPER = replace(
    CRADLE, bends=(CRADLE.bends[0], replace(CRADLE.bends[1], at_um=inches("15 1/2"), angle_deg=55))
)


def drawn(part) -> Sheet:
    parts = tuple(part if each.item == part.item else each for each in NEXT.parts)
    return replace(NEXT, parts=parts)


def overlay(part, told=()) -> str:
    return draw_overlay(part.item, CYLINDER, drawn(part), Units.INCH, told=told)


def test_what_moved_came_and_went_is_numbered_and_said() -> None:
    said = words(parsed(overlay(LOWER)))
    assert "hole 7/16 in at 11 1/2 in instead of at 11 in" in said
    assert "hole 7/16 in at 17 in is taken off" in said
    assert "hole 1/4 in at 25 in is new" in said
    assert "30 in long instead of 32 in" in said
    assert [said.count(number) for number in "1234"] == [2, 2, 2, 2]


def test_what_stays_is_not_marked() -> None:
    moved = moved_on("stem", CYLINDER, drawn(LOWER), Units.INCH)
    assert len(moved) == 4
    assert not any(one.was_um == one.now_um for one in moved)
    assert moved_on("stem", CYLINDER, NEXT, Units.INCH) == []


def test_old_and_new_lie_where_their_own_sheets_say() -> None:
    root = parsed(overlay(LOWER))
    for rev, part in (("old", STEM), ("new", LOWER)):
        shapes = [s for s in marked(root, "rev") if s.get("data-rev") == rev]
        places = sorted(along_um(root, shape) for shape in shapes)
        wanted = sorted(hole.from_end_um for hole in part.holes)
        assert places == pytest.approx(wanted, abs=A_HUNDREDTH_MM)


def test_the_old_is_dashed_and_grey_and_the_new_is_solid_and_black() -> None:
    for shape in marked(parsed(overlay(LOWER)), "rev"):
        is_old = shape.get("data-rev") == "old"
        assert shape.get("stroke") == (OLD_GREY if is_old else "#000")
        assert bool(shape.get("stroke-dasharray")) == is_old


def test_the_grey_stands_out_from_white_paper_by_more_than_four_to_one() -> None:
    """The contrast ratio of WCAG 2.2 with its relative luminance; graphics need 3 to 1."""
    (digit,) = set(OLD_GREY[1:])
    light = ((int(digit * 2, 16) / 255 + 0.055) / 1.055) ** 2.4
    assert 1.05 / (light + 0.05) > 4


def test_the_drawing_is_told_in_words_for_whoever_cannot_see_it() -> None:
    root = parsed(overlay(LOWER, told=["3 in a set instead of 2"]))
    assert root.find(f"{SVG}title").text == "Stem, rev D over rev C"
    told = root.find(f"{SVG}desc").text
    assert "at 11 1/2 in instead of at 11 in" in told
    assert "3 in a set instead of 2" in told


def test_a_bend_that_moved_is_drawn_flat_and_bent() -> None:
    root = parsed(overlay(STEEPER))
    assert len(root.findall(f"{SVG}polyline")) == 2
    said = " ".join(words(root))
    assert "bend 55° left at 15 1/2 in, inside radius 1 1/2 in instead of bend 40° left" in said


def test_a_bend_that_is_new_or_taken_off_is_said() -> None:
    one = replace(CRADLE, bends=CRADLE.bends[:1])
    off = moved_on("cradle-rod", CYLINDER, drawn(one), Units.INCH)
    assert [m.words for m in off] == ["bend 40° left at 15 in, inside radius 1 1/2 in is taken off"]
    back = moved_on("cradle-rod", drawn(one), CYLINDER, Units.INCH)
    assert (back[0].was_um, back[0].now_um) == (None, CRADLE.bends[1].at_um)


def test_a_weld_that_moved_is_marked_on_what_it_is_held_on() -> None:
    new = replace(NEXT, joints=(JOINTS[0], replace(JOINTS[1], at_um=inches(4)), JOINTS[2]))
    root = parsed(draw_overlay("bar", CYLINDER, new, Units.INCH, told=()))
    assert "weld of cradle rod at 4 in instead of at 3 in" in words(root)
    (mark,) = marked(root, "moved-um")
    assert along_um(root, mark) == pytest.approx(inches(4), abs=A_HUNDREDTH_MM)


def test_a_wire_piece_is_laid_corner_over_corner() -> None:
    root = parsed(overlay(replace(WIRE, width_um=inches(30), length_um=inches(92))))
    sizes = [float(s.get("width")) for s in root.iter(f"{SVG}rect") if s.get("stroke")]
    assert sizes[1] / sizes[0] == pytest.approx(92 / 88, abs=1e-4)
    assert "92 in long instead of 88 in" in words(root)


@examples(6)
@given(some_parts(), some_parts(), some_units, st.booleans())
def test_any_two_revisions_are_drawn_legibly(one, other, units, is_told) -> None:
    old, new = (Sheet("Any", "NC-1", rev, (part,)) for rev, part in (("A", one), ("B", other)))
    svg = draw_overlay("part", old, new, units, told=["may differ"] if is_told else [])
    assert off_the_sheet(svg) == []
    assert over_each_other(svg) == []
    root = parsed(svg)
    for shape in marked(root, "um"):
        assert abs(along_um(root, shape) - int(shape.get("data-um"))) < A_HUNDREDTH_MM
    assert set(re.findall(r"#[0-9a-f]+", svg)) <= {"#000", "#fff", OLD_GREY}


def test_a_long_name_stays_on_the_sheet() -> None:
    svg = overlay(replace(LOWER, name="Stem for the wide post on the far side of the marsh, long"))
    assert off_the_sheet(svg) == []
