from dataclasses import replace

import pytest

from inventory.measures.lengths import Units
from tests.workshops.stations.drawing.measured import along_um, marked, parsed, words
from tests.workshops.stations.geometry.sheets import BOLTED, CYLINDER, POST, STAND
from workshops.stations.drawing.head import draw_head
from workshops.stations.drawing.operation import draw_for_operation
from workshops.stations.drawing.set_view import draw_set
from workshops.stations.geometry.sheet import Sheet

POST_ALONE = Sheet("Post alone", "NC-40", "A", (POST,))


def test_rods_stand_on_the_bar_where_the_sheet_says():
    root = parsed(draw_head(CYLINDER, Units.INCH))
    drawn = [(int(s.get("data-um")), along_um(root, s)) for s in marked(root, "joint")]
    assert [um for um, _ in drawn] == [CYLINDER.joints[1].at_um, CYLINDER.joints[2].at_um]
    for um, measured in drawn:
        assert measured == pytest.approx(um, abs=10)


def test_every_joint_is_said_in_words_with_its_place():
    said = words(parsed(draw_head(CYLINDER, Units.INCH)))
    assert "Weld Stem to Bar, 10 in from the left end, all round" in said
    assert "Weld Cradle rod to Bar, 17 in from the left end, both sides" in said


def test_a_bolted_head_says_bolt_and_never_weld():
    said = " ".join(words(parsed(draw_head(BOLTED, Units.INCH))))
    assert "Bolt Stem to Bar" in said
    assert "Weld" not in said


def test_a_joint_away_from_the_bar_is_listed_too():
    said = words(parsed(draw_head(STAND, Units.INCH)))
    assert "Weld Leg to Socket, 5 in from the top, all round" in said


def test_a_head_without_a_bar_cannot_be_drawn():
    with pytest.raises(ValueError, match="no stem and bar"):
        draw_head(POST_ALONE, Units.INCH)


def test_the_set_lists_every_part_with_its_count_and_says_the_heights():
    said = words(parsed(draw_set(CYLINDER, Units.INCH)))
    assert {f"{part.count} × {part.name}" for part in CYLINDER.parts} <= set(said)
    assert "The bar stands 8 in, 14 in, 20 in above the post, by the pin hole chosen." in said


def test_a_sheet_without_a_head_still_gives_its_parts_list():
    assert "1 × Post" in words(parsed(draw_set(POST_ALONE, Units.INCH)))


def test_a_set_without_a_roll_or_rods_is_drawn():
    bare = replace(CYLINDER, roll=None, joints=(), parts=CYLINDER.parts[:3])
    assert "1 × Bar" in words(parsed(draw_set(bare, Units.MILLIMETRE)))


@pytest.mark.parametrize(
    ("kind", "item", "title"),
    [
        ("cut", "post-9", "Post"),
        ("drill", "stem", "Stem"),
        ("bend", "cradle-rod", "Cradle rod"),
        ("weld", "", "Head of Single-post nest cylinder"),
        ("roll", "wire-piece", "Roll, cut through"),
        ("fill", "", "Roll, cut through"),
        ("tag", "", "Single-post nest cylinder, pulled apart"),
    ],
)
def test_each_station_sees_the_drawing_of_its_work(kind, item, title):
    svg = draw_for_operation(kind, CYLINDER, Units.INCH, item=item)
    assert f"<title>{title}</title>" in svg


@pytest.mark.parametrize("kind", ["greeter", "kitchen", "fire_watch", "cut"])
def test_where_there_is_nothing_to_draw_there_is_no_drawing(kind):
    assert draw_for_operation(kind, CYLINDER, Units.INCH) is None
