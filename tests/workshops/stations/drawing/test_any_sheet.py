"""Whatever a sheet holds, its drawings keep their words apart and on the paper."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.measures.lengths import Units, inches
from tests.examples import examples
from tests.workshops.stations.drawing.measured import (
    along_um,
    marked,
    off_the_sheet,
    over_each_other,
    parsed,
)
from tests.workshops.stations.geometry.sheets import (
    BAR,
    CONDUIT,
    CYLINDER,
    ROD,
    ROLL,
    TUBE_POST,
    TUBE_STEM,
)
from workshops.stations.drawing.head import draw_head
from workshops.stations.drawing.parts import draw_part
from workshops.stations.drawing.roll_section import draw_roll_section
from workshops.stations.drawing.set_view import draw_set
from workshops.stations.geometry.parts import Bend, Hole, Part, PartRole, Turn
from workshops.stations.geometry.sheet import Joint

A_HUNDREDTH_MM = 10  # micrometres
some_units = st.sampled_from(Units)


@st.composite
def some_parts(draw):
    length = draw(st.integers(250_000, 3_500_000))
    at = st.integers(60_000, length - 60_000)
    hole = st.builds(
        Hole, at, st.sampled_from([4_000, 12_700]), st.booleans(), st.booleans(),
        st.sampled_from(["", "for the tag"]),
    )  # fmt: skip
    bend = st.builds(
        Bend, at, st.sampled_from([15, 22.5, 45, 90]), st.just(40_000), st.sampled_from(Turn)
    )
    return Part(
        "Part with a rather long name", "part", PartRole.OTHER,
        draw(st.sampled_from([TUBE_POST, TUBE_STEM, ROD, CONDUIT])), length,
        tuple(draw(st.lists(hole, max_size=5))), tuple(draw(st.lists(bend, max_size=3))),
        tolerance_um=1_588, stock_length_um=6_096_000,
    )  # fmt: skip


@st.composite
def some_heads(draw):
    bar = replace(BAR, length_um=draw(st.integers(300_000, 900_000)))
    at = st.integers(0, bar.length_um)
    rods = [
        Joint("cradle-rod", "bar", place, inches(11))
        for place in draw(st.lists(at, min_size=1, max_size=3))
    ]
    parts = tuple(bar if part.item == "bar" else part for part in CYLINDER.parts)
    joints = (Joint("stem", "bar", draw(at), inches(32)), *rods)
    return replace(CYLINDER, parts=parts, joints=joints)


@examples(120)
@given(some_parts(), some_units)
def test_any_part_is_drawn_legibly_and_to_a_hundredth(part, units):
    svg = draw_part(part, units)
    assert off_the_sheet(svg) == []
    assert over_each_other(svg) == []
    root = parsed(svg)
    for shape in marked(root, "um"):
        assert abs(along_um(root, shape) - int(shape.get("data-um"))) < A_HUNDREDTH_MM
    # Against the sheet as well: a mark left out, or marked as it is drawn, would pass alone.
    holes, bends, ends = (
        sorted(along_um(root, shape) for shape in marked(root, kind))
        for kind in ("hole", "bend", "edge")
    )
    assert holes == pytest.approx(sorted(h.from_end_um for h in part.holes), abs=A_HUNDREDTH_MM)
    assert bends == pytest.approx(sorted(b.at_um for b in part.bends), abs=A_HUNDREDTH_MM)
    assert ends == pytest.approx([0, part.length_um], abs=A_HUNDREDTH_MM)


@examples(15)
@given(some_parts(), some_units)
def test_every_dimension_line_is_as_long_as_it_says(part, units):
    root = parsed(draw_part(part, units))
    scale, lines = int(root.get("data-um-per-mm")), marked(root, "dimension-um")
    wanted = sorted({h.from_end_um for h in part.holes} | {b.at_um for b in part.bends})
    assert [int(line.get("data-dimension-um")) for line in lines] == [*wanted, part.length_um]
    for line in lines:
        # Arrows that point inward from outside stand on a line longer by both of them.
        span = float(line.get("x2")) - float(line.get("x1"))
        short = (span - 9) * scale
        said = int(line.get("data-dimension-um"))
        assert min(abs(span * scale - said), abs(short - said)) < A_HUNDREDTH_MM


@examples(15)
@given(some_heads(), some_units)
def test_any_head_and_set_are_drawn_legibly(sheet, units):
    for svg in (draw_head(sheet, units), draw_set(sheet, units)):
        assert off_the_sheet(svg) == []
        assert over_each_other(svg) == []
    root = parsed(draw_head(sheet, units))
    rods = sorted(along_um(root, shape) for shape in marked(root, "joint"))
    wanted = sorted(joint.at_um for joint in sheet.joints if joint.part == "cradle-rod")
    assert rods == pytest.approx(wanted, abs=A_HUNDREDTH_MM)


@examples(15)
@given(
    st.integers(500_000, 1_400_000),
    st.integers(50_000, 1_800_000),
    st.integers(10_000, 90_000),
    some_units,
)
def test_any_roll_is_drawn_legibly(ring, more, layer, units):
    roll = replace(ROLL, ring_um=ring, piece_length_um=ring + more, layer_um=layer)
    svg = draw_roll_section(roll, units)
    assert off_the_sheet(svg) == []
    assert over_each_other(svg) == []
