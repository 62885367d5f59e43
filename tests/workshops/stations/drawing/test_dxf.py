"""DXF files read back with the library and held against the build sheet."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from ezdxf import bbox
from ezdxf.math import Vec2, bulge_center, bulge_radius
from hypothesis import given

from inventory.measures.lengths import Units, inches
from tests.examples import examples
from tests.workshops.stations.drawing.read_dxf import on_layer, opened, words
from tests.workshops.stations.drawing.test_any_sheet import some_parts
from tests.workshops.stations.geometry.sheets import CRADLE, CYLINDER, POST, STAND, STEM, WIRE
from workshops.stations.drawing.dxf import part_dxf, template_dxf
from workshops.stations.drawing.profile import bent
from workshops.stations.drawing.stamp import Stamp
from workshops.stations.geometry.parts import Turn

IN_FORCE = Stamp("Drawing NC-31 rev C", "in force from 14 Jan 2026")
OLD = Stamp("Drawing NC-31 rev B", "superseded", "SUPERSEDED: do not build from this drawing")
A_HUNDREDTH = 0.01  # millimetres
PARTS = [POST, *STAND.parts]
S_BEND = replace(CRADLE, bends=(CRADLE.bends[0], replace(CRADLE.bends[1], turn=Turn.RIGHT)))


def flat(part, stamp=IN_FORCE):
    return opened(part_dxf(part, stamp, Units.INCH))


def template(part, stamp=IN_FORCE):
    return opened(template_dxf(part, stamp, Units.INCH))


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.name)
def test_holes_and_bends_lie_where_the_build_sheet_says(part) -> None:
    doc = flat(part)
    holes = sorted((c.dxf.center.x, c.dxf.radius * 2) for c in on_layer(doc, "holes"))
    wanted = sorted((hole.from_end_um / 1_000, hole.diameter_um / 1_000) for hole in part.holes)
    assert holes == [pytest.approx(each, abs=A_HUNDREDTH) for each in wanted]
    bends = sorted(line.dxf.start.x for line in on_layer(doc, "bends"))
    assert bends == pytest.approx(sorted(b.at_um / 1_000 for b in part.bends), abs=A_HUNDREDTH)


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.name)
def test_the_outline_is_as_long_and_as_broad_as_the_part(part) -> None:
    box = bbox.extents(on_layer(flat(part), "outline"))
    broad = part.width_um or part.section.outside_um
    assert box.size.x == pytest.approx(part.length_um / 1_000, abs=A_HUNDREDTH)
    assert box.size.y == pytest.approx(broad / 1_000, abs=A_HUNDREDTH)
    assert box.extmin.isclose((0, 0, 0), abs_tol=A_HUNDREDTH)


def test_a_hole_in_the_wrong_place_would_be_noticed() -> None:
    moved = replace(STEM, holes=(replace(STEM.holes[0], from_end_um=inches("5 1/64")),))
    (circle,) = on_layer(flat(moved), "holes")
    assert abs(circle.dxf.center.x - STEM.holes[0].from_end_um / 1_000) > A_HUNDREDTH


@examples(5)
@given(some_parts())
def test_any_part_comes_back_to_a_hundredth(part) -> None:
    holes = sorted(circle.dxf.center.x for circle in on_layer(flat(part), "holes"))
    wanted = sorted(hole.from_end_um / 1_000 for hole in part.holes)
    assert holes == pytest.approx(wanted, abs=A_HUNDREDTH)


@pytest.mark.parametrize("make", [flat, template])
def test_the_file_says_millimetres_and_has_our_layers(make) -> None:
    doc = make(CRADLE)
    assert (doc.header["$INSUNITS"], doc.header["$MEASUREMENT"]) == (4, 1)
    used = {shape.dxf.layer for shape in doc.modelspace()}
    assert used <= {"outline", "holes", "bends", "words"}
    assert used == {"outline", "bends", "words"}
    assert doc.audit().errors == []


@pytest.mark.parametrize("make", [flat, template])
def test_an_old_revision_is_called_superseded_in_the_drawing(make) -> None:
    said = words(make(CRADLE, OLD))
    assert said[0] == "SUPERSEDED: do not build from this drawing"
    assert "Drawing NC-31 rev B, superseded" in said
    assert not any("SUPERSEDED" in line for line in words(make(CRADLE)))


def test_the_words_say_the_stock_and_every_hole() -> None:
    said = words(flat(STEM))
    assert "Stem, 32 in ± 1/16 in of 1 1/4 in square tube, wall 0.083 in" in said
    assert "x = 0 is the lower end. Millimetres." in said
    assert sum(line.startswith("hole 7/16 in, through both walls") for line in said) == 3


@pytest.mark.parametrize("part", [CRADLE, S_BEND], ids=["one way", "both ways"])
def test_a_template_is_as_wide_and_tall_as_the_bent_part(part) -> None:
    (edge,) = on_layer(template(part), "outline")
    box = bbox.extents(edge.virtual_entities())
    wide, tall = bent(part).size_um
    # The size over all steps along a bend, and may miss its highest point by a hair.
    assert box.size.x == pytest.approx(wide / 1_000, abs=0.05)
    assert box.size.y == pytest.approx(tall / 1_000, abs=0.05)


def test_the_inside_of_each_bend_is_an_arc_of_the_radius_drawn() -> None:
    (edge,) = on_layer(template(CRADLE), "outline")
    points = list(edge.get_points("xyb"))
    radii = sorted(
        bulge_radius(Vec2(x, y), Vec2(points[(at + 1) % len(points)][:2]), bulge)
        for at, (x, y, bulge) in enumerate(points) if bulge
    )  # fmt: skip
    inside = CRADLE.bends[0].inside_radius_um / 1_000
    outside = inside + CRADLE.section.outside_um / 1_000
    assert radii == pytest.approx([inside, inside, outside, outside], abs=A_HUNDREDTH)


def test_both_edges_of_a_bend_turn_about_one_middle() -> None:
    (edge,) = on_layer(template(CRADLE), "outline")
    points = list(edge.get_points("xyb"))
    middles = [
        bulge_center(Vec2(x, y), Vec2(points[at + 1][:2]), bulge)
        for at, (x, y, bulge) in enumerate(points) if bulge
    ]  # fmt: skip
    assert len(middles) == 4
    assert middles[0].isclose(middles[3], abs_tol=A_HUNDREDTH)
    assert middles[1].isclose(middles[2], abs_tol=A_HUNDREDTH)


def test_the_bent_rod_is_as_long_along_its_middle_as_it_was_cut() -> None:
    (edge,) = on_layer(template(CRADLE), "outline")
    around = sum(_run(shape) for shape in edge.virtual_entities())
    # Both edges together are twice the middle line, and the two ends are added.
    along = (around - 2 * CRADLE.section.outside_um / 1_000) / 2
    assert along == pytest.approx(CRADLE.length_um / 1_000, abs=A_HUNDREDTH)


def _run(shape) -> float:
    if shape.dxftype() == "LINE":
        return shape.dxf.start.distance(shape.dxf.end)
    turned = (shape.dxf.end_angle - shape.dxf.start_angle) % 360
    return shape.dxf.radius * math.radians(turned)


def test_a_straight_part_has_no_template() -> None:
    with pytest.raises(ValueError, match="no bend"):
        template(POST)


def test_a_name_with_line_ends_or_signs_leaves_the_file_whole() -> None:
    odd = replace(WIRE, name="Wire\n0\nEOF %%d piece")
    doc = flat(odd)
    assert any(line.startswith("Wire 0 EOF % %d piece") for line in words(doc))
    assert len(on_layer(doc, "outline")) == 1


def test_a_set_has_one_file_a_part_and_they_share_nothing() -> None:
    sizes = {bbox.extents(on_layer(flat(p), "outline")).size.x for p in CYLINDER.parts}
    assert len(sizes) == len({part.length_um for part in CYLINDER.parts})
