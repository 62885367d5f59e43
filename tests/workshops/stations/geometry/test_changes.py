"""What changed from one drawing to the next, in numbers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from inventory.measures.lengths import Units, inches
from tests.workshops.stations.geometry.sheets import BOLTED, CRADLE, CYLINDER, POST, STEM, WIRE
from workshops.stations.geometry.changes import Change, changes_between, is_same_part
from workshops.stations.geometry.parts import Hole, Part, PartRole
from workshops.stations.geometry.sheet import Sheet


def drawn(part: Part) -> Sheet:
    """The cylinder with one part drawn otherwise."""
    parts = tuple(part if each.item == part.item else each for each in CYLINDER.parts)
    return replace(CYLINDER, parts=parts)


def the_change(part: Part):
    (change,) = changes_between(CYLINDER, drawn(part), Units.INCH).parts
    return change


def test_nothing_changed_between_a_drawing_and_itself() -> None:
    assert changes_between(CYLINDER, CYLINDER, Units.INCH).is_nothing


@pytest.mark.parametrize(
    ("part", "says", "is_cut_anew"),
    [
        (replace(POST, length_um=inches(102)), "6 in less: 102 in long instead of 108 in", True),
        (replace(STEM, holes=STEM.holes[:2]), "holes 7/16 in at 5 in, 7/16 in at 11 in", False),
        (replace(STEM, holes=()), "holes none instead of", False),
        (replace(CRADLE, bends=CRADLE.bends[:1]), "bends 40° at 7 in instead of 40°", False),
        (replace(POST, tolerance_um=inches("1/16")), "may differ by 1/16 in", False),
        (replace(WIRE, width_um=inches(30)), "6 in less: 30 in wide", True),
        (replace(POST, section=STEM.section), "square tube 1 1/4 in, wall 0.083 in", True),
    ],
)
def test_each_change_is_said_in_numbers(part, says, is_cut_anew) -> None:
    change = the_change(part)
    assert any(says in words for words in change.words)
    assert (change.is_cut_anew, change.is_other_shape) == (is_cut_anew, True)


def test_another_count_leaves_the_part_itself_as_it_was() -> None:
    change = the_change(replace(CRADLE, count=3))
    assert change.words == ("3 in a set instead of 2",)
    assert not change.is_other_shape


@pytest.mark.parametrize(
    "part",
    [replace(POST, name="Pole"), replace(POST, stock_length_um=inches(288)),
     replace(POST, holes=(replace(POST.holes[0], name="for the pin"),))],
)  # fmt: skip
def test_names_and_bought_lengths_change_nothing(part) -> None:
    assert changes_between(CYLINDER, drawn(part), Units.INCH).is_nothing
    assert is_same_part(POST, part)


def test_parts_come_and_go() -> None:
    cap = Part("Cap", "cap", PartRole.OTHER, STEM.section, inches(2), holes=(Hole(1000, 500),))
    more = replace(CYLINDER, parts=(*CYLINDER.parts, cap))
    assert changes_between(CYLINDER, more, Units.INCH).parts[0].change is Change.ADDED
    assert changes_between(more, CYLINDER, Units.INCH).parts[0].change is Change.TAKEN_OFF


def test_a_head_that_is_bolted_and_not_welded_is_another_head() -> None:
    changes = changes_between(CYLINDER, replace(BOLTED, drawing_number="NC-31"), Units.INCH)
    assert changes.parts == ()
    assert ("stem", "bar") in changes.joints
    assert "stem is held on bar otherwise" in changes.words


def test_another_roll_is_told_in_its_own_words() -> None:
    roll = replace(CYLINDER.roll, layer_um=inches(2), fill_percent=80, rings_min=10)
    changes = changes_between(CYLINDER, replace(CYLINDER, roll=roll), Units.INCH)
    assert changes.is_other_roll
    assert "the straw layer 2 in instead of 1 7/8 in" in changes.words
    assert "filled to 80 % instead of 70 %" in changes.words
    assert "10 to 13 rings instead of 9 to 13" in changes.words
