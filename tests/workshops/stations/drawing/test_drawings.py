"""What holds for every drawing: told in words, legible, inside its sheet, plain SVG."""

import re

import pytest
from weasyprint import HTML

from inventory.measures.lengths import Units
from tests.workshops.stations.drawing.measured import (
    SVG,
    off_the_sheet,
    over_each_other,
    parsed,
    set_width,
)
from tests.workshops.stations.geometry.sheets import BOLTED, CRADLE, CYLINDER, POST, ROLL, STAND
from workshops.stations.drawing.canvas import Canvas, text_width
from workshops.stations.drawing.head import draw_head
from workshops.stations.drawing.parts import draw_part
from workshops.stations.drawing.roll_section import draw_roll_section
from workshops.stations.drawing.set_view import draw_set

NINE_POINT_MM = 9 * 25.4 / 72
ALLOWED = {"svg", "title", "desc", "line", "rect", "circle", "polygon", "polyline", "text"}
DRAWINGS = {
    f"{name} {units.value}": draw(units)
    for units in Units
    for name, draw in {
        "post": lambda units: draw_part(POST, units),
        "cradle rod": lambda units: draw_part(CRADLE, units),
        **{part.item: lambda units, part=part: draw_part(part, units) for part in STAND.parts},
        "roll": lambda units: draw_roll_section(ROLL, units),
        "head": lambda units: draw_head(CYLINDER, units),
        "stand head": lambda units: draw_head(STAND, units),
        "bolted head": lambda units: draw_head(BOLTED, units),
        "set": lambda units: draw_set(CYLINDER, units),
        "stand": lambda units: draw_set(STAND, units),
    }.items()
}
every_drawing = pytest.mark.parametrize("svg", DRAWINGS.values(), ids=DRAWINGS.keys())


@every_drawing
def test_a_drawing_is_told_in_words_for_whoever_cannot_see_it(svg):
    root = parsed(svg)
    assert root.get("role") == "img"
    assert root.find(f"{SVG}title").text
    assert len(root.find(f"{SVG}desc").text) > 10


@every_drawing
def test_no_text_is_under_nine_points_on_paper(svg):
    sizes = [float(text.get("font-size")) for text in parsed(svg).iter(f"{SVG}text")]
    assert sizes
    assert min(sizes) >= NINE_POINT_MM


@every_drawing
def test_nothing_but_plain_shapes_is_used(svg):
    assert {shape.tag.removeprefix(SVG) for shape in parsed(svg).iter()} <= ALLOWED
    assert "style=" not in svg


@every_drawing
def test_every_text_lies_inside_the_sheet(svg):
    assert off_the_sheet(svg) == []


@every_drawing
def test_no_two_texts_lie_over_each_other(svg):
    assert over_each_other(svg) == []


def test_texts_over_each_other_and_off_the_sheet_would_be_noticed():
    canvas = Canvas("Two words", "over each other")
    for x in (150, 151):
        canvas.text((x, 10), "one place", size=4)
    assert over_each_other(canvas.to_svg(20)) == [("one place", "one place")]
    assert off_the_sheet(canvas.to_svg(20)) == ["one place", "one place"]


@every_drawing
def test_the_estimate_of_a_text_is_no_less_than_the_font_makes_it(svg):
    for text in parsed(svg).iter(f"{SVG}text"):
        is_bold = text.get("font-weight") is not None
        guess = text_width(text.text, float(text.get("font-size")), bold=is_bold)
        assert guess >= set_width(text)


@every_drawing
def test_only_black_grey_and_white_are_used(svg):
    assert set(re.findall(r"#[0-9a-f]+", svg)) <= {"#000", "#fff", "#bbb", "#e6e6e6"}


def test_the_pdf_maker_takes_every_drawing_without_a_warning(caplog):
    HTML(string="".join(DRAWINGS.values())).write_pdf()
    assert [record.message for record in caplog.records if "svg" in record.message.lower()] == []
