"""What holds for every drawing: told in words, legible, inside its sheet, plain SVG."""

import re

import pytest
from weasyprint import HTML

from inventory.measures.lengths import Units
from tests.workshops.stations.drawing.measured import SVG, parsed
from tests.workshops.stations.geometry.sheets import BOLTED, CRADLE, CYLINDER, POST, ROLL, STAND
from workshops.stations.drawing.canvas import WIDTH_MM, text_width
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
    root = parsed(svg)
    height = float(root.get("height").removesuffix("mm"))
    for text in root.iter(f"{SVG}text"):
        left, right = extent(text)
        assert left >= 0, text.text
        assert right <= WIDTH_MM, text.text
        assert 2 <= float(text.get("y")) <= height


@every_drawing
def test_no_two_texts_lie_over_each_other(svg):
    texts = list(parsed(svg).iter(f"{SVG}text"))
    for place, one in enumerate(texts):
        for other in texts[place + 1 :]:
            assert not overlaps(one, other), f"{one.text} / {other.text}"


@every_drawing
def test_only_black_grey_and_white_are_used(svg):
    assert set(re.findall(r"#[0-9a-f]+", svg)) <= {"#000", "#fff", "#bbb", "#e6e6e6"}


def test_the_pdf_maker_takes_every_drawing_without_a_warning(caplog):
    HTML(string="".join(DRAWINGS.values())).write_pdf()
    assert [record.message for record in caplog.records if "svg" in record.message.lower()] == []


def extent(text):
    size, x = float(text.get("font-size")), float(text.get("x"))
    width = text_width(text.text or "", size) * 0.93  # the estimate is on the generous side
    shift = {"start": 0, "middle": width / 2, "end": width}[text.get("text-anchor")]
    return x - shift, x - shift + width


def overlaps(one, other):
    (left, right), (start, end) = extent(one), extent(other)
    apart = abs(float(one.get("y")) - float(other.get("y")))
    return left < end and start < right and apart < 0.75 * float(one.get("font-size"))
