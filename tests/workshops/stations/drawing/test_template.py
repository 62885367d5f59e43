"""Bend templates at true size: what the SVG and the PDF measure, and how sheets lap."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.measures.lengths import Units, inches
from tests.examples import examples
from tests.workshops.stations.drawing.measured import SVG, marked, parsed, words
from tests.workshops.stations.drawing.on_paper import pages, segments_mm, size_mm
from tests.workshops.stations.geometry.sheets import CRADLE, LEG, POST
from workshops.common.pdf import pdf_from_html
from workshops.stations.drawing.profile import bent
from workshops.stations.drawing.stamp import Stamp
from workshops.stations.drawing.template import draw_template
from workshops.stations.drawing.tiles import LAP_MM, Paper, tiled
from workshops.stations.geometry.bending import spot_at
from workshops.stations.geometry.parts import Bend

IN_FORCE = Stamp("Drawing NC-31 rev C", "in force from 14 Jan 2026", printed="printed 14 Jan 2026")
OLD = Stamp("Drawing NC-31 rev B", "superseded", "SUPERSEDED: do not build from this drawing")
LETTER, A4 = Paper(215.9, 279.4), Paper(210, 297)
HOOP = replace(
    LEG, name="Hoop", bends=tuple(Bend(inches(at), 90, inches(5)) for at in (20, 54, 88))
)
HOOK = replace(CRADLE, length_um=inches(8), bends=(Bend(inches(4), 90, inches(1)),))
every_paper = pytest.mark.parametrize("paper", [LETTER, A4], ids=["letter", "a4"])


def sheets(part, paper=LETTER, stamp=IN_FORCE):
    drawn, lies = draw_template(part, stamp, Units.INCH, paper)
    return [parsed(svg) for svg in drawn], lies


def printed(part, paper):
    drawn, lies = draw_template(part, IN_FORCE, Units.INCH, paper)
    css = f"@page {{ size: {lies.width_mm}mm {lies.height_mm}mm; margin: 0 }} body {{ margin: 0 }}"
    shapes = "".join(drawn).replace("<svg ", '<svg style="display: block; break-after: page" ')
    return pages(pdf_from_html(f"<title>T</title><style>{css}</style>{shapes}")), lies


@every_paper
def test_both_rules_measure_a_hundred_millimetres_in_the_pdf(paper) -> None:
    made, lies = printed(HOOK, paper)
    for page in made[:1]:
        assert size_mm(page) == pytest.approx((lies.width_mm, lies.height_mm), abs=0.1)
        lines = segments_mm(page)
        level = [abs(x2 - x1) for x1, y1, x2, y2 in lines if y1 == y2]
        upright = [abs(y2 - y1) for x1, y1, x2, y2 in lines if x1 == x2]
        assert any(abs(length - 100) < 0.02 for length in level)
        assert any(abs(length - 100) < 0.02 for length in upright)


def test_a_page_printed_too_small_would_be_noticed() -> None:
    drawn, _ = draw_template(HOOK, IN_FORCE, Units.INCH, LETTER)
    shrunk = drawn[0].replace('width="215.9mm"', 'width="211.6mm"', 1)
    shrunk = shrunk.replace('height="278.4mm"', 'height="272.8mm"', 1)
    assert shrunk != drawn[0]
    (page, *_) = pages(pdf_from_html(f"<title>T</title>{shrunk}"))
    level = [abs(x2 - x1) for x1, y1, x2, y2 in segments_mm(page) if y1 == y2]
    assert not any(abs(length - 100) < 0.2 for length in level)


def test_the_rod_is_as_wide_on_the_sheet_as_it_is_bent() -> None:
    (root,), _ = sheets(HOOK)
    outline = root.find(f"{SVG}polyline").get("points").split()
    across = [float(point.split(",")[0]) for point in outline]
    down = [float(point.split(",")[1]) for point in outline]
    wide, tall = bent(HOOK).size_um
    assert max(across) - min(across) == pytest.approx(wide / 1_000, abs=0.05)
    assert max(down) - min(down) == pytest.approx(tall / 1_000, abs=0.05)


@every_paper
@pytest.mark.parametrize("part", [CRADLE, HOOP, HOOK], ids=lambda part: part.name)
def test_bends_are_as_far_apart_on_paper_as_on_the_rod(part, paper) -> None:
    runs = bent(part).runs
    for root in sheets(part, paper)[0]:
        middles = [_middle(line) for line in marked(root, "bend")]
        spots = [spot_at(runs, bend.at_um) for bend in part.bends]
        for one, other in zip(range(len(spots)), range(1, len(spots)), strict=False):
            drawn = math.dist(middles[one], middles[other])
            a, b = spots[one], spots[other]
            wanted = math.hypot(a.x_um - b.x_um, a.y_um - b.y_um) / 1_000
            assert drawn == pytest.approx(wanted, abs=0.01)


def _middle(line) -> tuple[float, float]:
    ends = [float(line.get(key)) for key in ("x1", "x2", "y1", "y2")]
    return (ends[0] + ends[1]) / 2, (ends[2] + ends[3]) / 2


@every_paper
def test_every_seam_is_marked_on_both_its_sheets_at_one_place_of_the_rod(paper) -> None:
    roots, _ = sheets(HOOP, paper)
    places: dict[str, list[tuple[float, float]]] = {}
    for root in roots:
        bend = _middle(marked(root, "bend")[0])
        for mark in marked(root, "mark"):
            at = float(mark.get("cx")) - bend[0], float(mark.get("cy")) - bend[1]
            places.setdefault(mark.get("data-mark"), []).append(at)
    assert len(places) >= len(roots) - 1
    for found in places.values():
        assert len(found) == 4
        one, other = sorted(found)[:2], sorted(found)[2:]
        near = [sum(math.dist(a, b) < 0.001 for b in found) for a in (*one, *other)]
        assert near == [2, 2, 2, 2]


def test_a_short_rod_takes_one_sheet_without_seams() -> None:
    (root,), _ = sheets(HOOK)
    assert marked(root, "seam") == []
    assert "sheet 1 of 1" in words(root)


def test_each_sheet_says_its_drawing_its_state_and_its_number() -> None:
    roots, _ = sheets(CRADLE, stamp=OLD)
    for number, root in enumerate(roots, start=1):
        said = words(root)
        assert "SUPERSEDED: do not build from this drawing" in said
        assert "Drawing NC-31 rev B, superseded" in said
        assert f"sheet {number} of {len(roots)}" in said
    assert not any("SUPERSEDED" in line for line in words(sheets(CRADLE)[0][0]))


def test_every_bend_is_named_once() -> None:
    said = [line for root in sheets(HOOP)[0] for line in words(root)]
    assert sorted(line for line in said if line.startswith("bend ")) == [
        f"bend {number}: 90° left" for number in (1, 2, 3)
    ]


@every_paper
def test_a_long_name_stays_on_the_sheet_and_no_word_is_small(paper) -> None:
    roots, lies = sheets(replace(CRADLE, name="Cradle rod " * 6), paper)
    for root in roots:
        for text in root.iter(f"{SVG}text"):
            assert float(text.get("font-size")) >= 9 * 25.4 / 72
            assert 0 <= float(text.get("x")) <= lies.width_mm


def test_a_straight_part_has_no_template() -> None:
    with pytest.raises(ValueError, match="no bend"):
        sheets(POST)


@examples(3)
@given(st.floats(1, 1_500), st.floats(1, 1_500), st.sampled_from([LETTER, A4]))
def test_every_place_of_a_drawing_is_on_a_printed_sheet(wide, tall, paper) -> None:
    places = [(wide * share / 60, tall * share / 60) for share in range(61)]
    tiling = tiled(places, (wide, tall), paper, head_mm=19)
    for place in places:
        owners = [t for t in tiling.tiles if tiling.owns(t, place)]
        assert len(owners) == 1
        x, y = tiling.at(owners[0], place)
        (left, top), (across, down) = tiling.corner, tiling.size
        assert left <= x <= left + across
        assert top <= y <= top + down


def test_neighbours_lap_by_twelve_millimetres() -> None:
    tiling = tiled([(0, 0), (300, 10)], (300, 10), LETTER, head_mm=19)
    assert tiling.size[0] - tiling.step[0] == LAP_MM
