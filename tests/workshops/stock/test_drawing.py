"""Sticks to scale: positions, letters and marks worked out by hand."""

from __future__ import annotations

from dataclasses import replace

from inventory.cutting.models import CutListRun
from inventory.cutting.queries import CutList, Stretch, Strip
from inventory.measures.lengths import Units, inches
from workshops.stock.drawing import draw, lettered

STRIP = Strip(
    stick="100 in stick",
    length_um=inches(100),
    times=2,
    stretches=(
        Stretch("piece", "Post", 0, inches(50)),
        Stretch("piece", "Bar", inches(51), inches(20)),
        Stretch("drop", "drop", inches(72), inches(28)),
    ),
    marks=(inches(50), inches(71)),
    left_over_um=inches(28),
    is_kept=True,
)
LIST = CutList(
    run=CutListRun(),
    strips=(STRIP, replace(STRIP, length_um=inches(50))),
    sentences=(),
    sticks_out=(),
    drops=(),
    wanted=(("Bar", inches(20), 2), ("Post", inches(50), 2)),
    missing=(),
    is_proven=True,
)


def test_pieces_lie_to_the_scale_of_the_longest_stick() -> None:
    drawn, short = draw(LIST, Units.INCH)
    assert [(s.x, s.width) for s in drawn.shapes] == [(0, 500), (510, 200), (720, 280)]
    assert (drawn.width, short.width) == (1000, 500)


def test_letters_go_by_length_and_drops_have_none() -> None:
    assert [row[:2] for row in lettered(LIST)] == [("A", "Post"), ("B", "Bar")]
    assert [shape.letter for shape in draw(LIST, Units.INCH)[0].shapes] == ["A", "B", ""]


def test_marks_are_in_words_in_the_shops_units() -> None:
    assert draw(LIST, Units.INCH)[0].marks == ("50 in", "71 in")
    assert draw(LIST, Units.MILLIMETRE)[0].ticks[0].text == "1270"


def test_a_mark_that_would_run_into_the_one_before_goes_a_row_lower() -> None:
    crowded = replace(LIST, strips=(replace(STRIP, marks=(inches(50), inches("50 1/2"))),))
    (drawn,) = draw(crowded, Units.INCH)
    first, second = drawn.ticks
    assert (first.text, second.text) == ("50", "50 1/2")
    assert (first.row, second.row, second.x, drawn.rows) == (0, 1, 505, 2)


def test_a_mark_with_room_in_no_row_has_no_text() -> None:
    marks = (inches(50), inches("50 1/2"), inches("50 3/4"))
    (drawn,) = draw(replace(LIST, strips=(replace(STRIP, marks=marks),)), Units.INCH)
    assert [tick.text for tick in drawn.ticks] == ["50", "50 1/2", ""]
    assert drawn.marks[2] == "50 3/4 in"


def test_the_stop_is_told_once_a_length_in_its_order() -> None:
    assert STRIP.stops == (inches(50), inches(20))


def test_the_twenty_seventh_piece_gets_two_letters() -> None:
    wanted = tuple((f"P{n}", inches(100 - n), 1) for n in range(27))
    assert [row[0] for row in lettered(replace(LIST, wanted=wanted))][-2:] == ["Z", "AA"]


def test_only_a_mark_at_which_a_piece_begins_squares_the_end() -> None:
    trimmed = (
        Stretch("trim", "trim", 0, inches("1/4")),
        Stretch("piece", "Bar", inches("1/4"), 20),
    )
    assert replace(STRIP, stretches=trimmed, marks=(inches("1/4"),)).is_squared
    assert not STRIP.is_squared
    assert not replace(STRIP, marks=()).is_squared
