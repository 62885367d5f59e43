from dataclasses import replace

import pytest

from inventory.measures.lengths import Units, inches
from tests.workshops.stations.drawing.measured import marked, parsed, words
from tests.workshops.stations.geometry.sheets import ROLL
from workshops.stations.drawing.roll_section import draw_roll_section
from workshops.stations.geometry.roll import shape_of


def test_both_turns_are_drawn_to_the_size_of_the_sheet():
    root = parsed(draw_roll_section(ROLL, Units.INCH))
    scale, shape = int(root.get("data-um-per-mm")), shape_of(ROLL)
    drawn = {s.get("data-turn"): float(s.get("r")) * scale for s in marked(root, "turn")}
    assert drawn["first"] == pytest.approx(shape.inside_um / 2, abs=10)
    assert drawn["outer"] == pytest.approx(shape.outside_um / 2, abs=10)


def test_the_flat_piece_is_marked_where_each_turn_ends():
    root, shape = parsed(draw_roll_section(ROLL, Units.INCH)), shape_of(ROLL)
    marks = marked(root, "um-per-mm")[1:]  # the first is the drawing itself
    start, scale = float(marks[0].get("x1")), int(marks[0].get("data-um-per-mm"))
    drawn = [(float(mark.get("x1")) - start) * scale for mark in marks]
    turned = ROLL.ring_um + shape.outer_turn_um
    assert drawn == pytest.approx([0, ROLL.ring_um, turned, ROLL.piece_length_um], abs=10)


def test_the_words_name_ring_layer_outer_turn_overlap_and_rings():
    said = " ".join(words(parsed(draw_roll_section(ROLL, Units.INCH))))
    for words_wanted in ("35 in", "1 7/8 in thick", "46 25/32 in around", "9 to 13 hog", "70 %"):
        assert words_wanted in said


def test_a_piece_that_does_not_close_says_what_is_missing():
    short = replace(ROLL, piece_length_um=inches(80))
    said = " ".join(words(parsed(draw_roll_section(short, Units.INCH))))
    assert "No overlap: 1 25/32 in of wire is missing." in said
