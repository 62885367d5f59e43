"""Go or no-go: a measured value against what the sheet draws, by hand."""

from __future__ import annotations

import pytest

from inventory.measures.lengths import Units, feet, inches
from workshops.stations.geometry.gauging import Measure, gauge, holes_of, length_of, ring_of
from workshops.stations.geometry.parts import Hole, Part, PartRole, Section, SectionKind
from workshops.stations.geometry.roll import shape_of
from workshops.stations.geometry.sheet import RollSpec

SIXTEENTH = inches("1/16")


def post(*holes: Hole, tolerance_um: int = SIXTEENTH) -> Part:
    section = Section(SectionKind.SQUARE_TUBE, outside_um=inches(2), wall_um=inches("1/8"))
    return Part(
        "Post", "post", PartRole.POST, section, feet(7), holes=holes, tolerance_um=tolerance_um,
        end_name="top",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("apart", "is_go"),
    [(0, True), (SIXTEENTH, True), (-SIXTEENTH, True), (SIXTEENTH + 1, False),
     (-SIXTEENTH - 1, False)],
)  # fmt: skip
def test_both_ends_of_the_tolerance_are_within_the_drawing(apart: int, is_go: bool) -> None:
    assert gauge(length_of(post()), feet(7) + apart, Units.INCH).is_go is is_go


@pytest.mark.parametrize(
    ("value", "says"),
    [
        (feet(7), "84 in, as drawn; within the drawing"),
        (inches("84 1/16"), "1/16 in over the 84 in drawn; within the drawing"),
        (inches("83 3/4"), "1/4 in under the 84 in drawn; at least 83 15/16 in"),
        (inches("84 1/2"), "1/2 in over the 84 in drawn; at most 84 1/16 in"),
    ],
)
def test_it_says_how_far_off_and_what_is_allowed(value: int, says: str) -> None:
    assert gauge(length_of(post()), value, Units.INCH).says == says


def test_holes_are_measured_from_the_end_they_are_drawn_from_in_order() -> None:
    part = post(
        Hole(feet(2), inches("1/2")), Hole(feet(1), inches("1/2"), is_pin=True, name="Pin hole")
    )
    assert [(each.name, each.drawn_um) for each in holes_of(part)] == [
        ("Pin hole from the top", feet(1)), ("Hole 2 from the top", feet(2)),
    ]  # fmt: skip
    assert holes_of(post()) == ()


def test_a_hole_nearer_to_the_end_than_its_tolerance_is_never_before_the_end() -> None:
    part = post(Hole(1_000, 3_000), tolerance_um=2_000)
    assert holes_of(part)[0].least_um == 1


def test_the_first_turn_has_the_clubs_limit_and_no_other() -> None:
    roll = RollSpec(
        piece_length_um=inches(88), width_um=feet(3), ring_um=inches(36), layer_um=inches(1),
        mesh_long_um=inches(4), mesh_short_um=inches(2), wire_um=2_000, rings_min=4, rings_max=6,
        fill_percent=80,
    )  # fmt: skip
    ring = ring_of(roll, inches(12))
    assert (ring.drawn_um, ring.least_um) == (shape_of(roll).inside_um, None)
    assert not gauge(ring, inches(12) + 1, Units.INCH).is_go
    assert gauge(ring_of(roll, None), inches(20), Units.INCH).says.endswith("no limit is set")


@pytest.mark.parametrize("value", [0, -5])
def test_nothing_measured_is_refused(value: int) -> None:
    with pytest.raises(ValueError, match="more than nothing"):
        gauge(length_of(post()), value, Units.INCH)


def test_limits_out_of_order_are_refused() -> None:
    with pytest.raises(ValueError, match="least_um"):
        Measure("x", 5, least_um=6, most_um=4)
