"""The cut list asked for: what is refused, and how a stick is measured."""

from __future__ import annotations

import pytest
from hypothesis import given

from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.engines.strict import ProblemRefused
from tests.inventory.cutting.engine.some import problems, stems_and_bars


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Piece(" ", 1, 1), "label of a piece must not be empty"),
        (lambda: Piece("stem", 0, 1), "length of stem must be more than 0"),
        (lambda: Piece("stem", 5, -1), "count of stem must not be less than 0"),
        (lambda: Piece("stem", 5, 1, per_set=-1), "per_set of stem"),
        (lambda: Stick("", 1), "label of a stick must not be empty"),
        (lambda: Stick("20 ft", -3), "length of 20 ft must be more than 0"),
        (lambda: Stick("20 ft", 3, -1), "count of 20 ft"),
        (lambda: Stick("20 ft", 3, 1, -1), "cost of 20 ft"),
        (lambda: Stick("20 ft", 3, None, 0), "cost of 20 ft must be more than 0"),
    ],
)
def test_nonsense_is_refused_by_name(make, words):
    with pytest.raises(ValueError, match=words):
        make()


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"kerf": -1}, "kerf must not be less than 0"),
        ({"trim": -1}, "trim must not be less than 0"),
        ({"kerf": 3, "trim": 2}, "trim must be 0 or at least the kerf"),
        ({"keep_length": 0}, "keep_length must be more than 0"),
        ({"keep_percent": 100}, "keep_percent must be 0 to 99"),
        ({"pieces": (Piece("a", 1, 1), Piece("a", 2, 1))}, "pieces: the label a stands twice"),
        ({"sticks": (Stick("a", 1), Stick("a", 2))}, "sticks: the label a stands twice"),
        ({"sticks": (Stick("a", 1), Stick("b", 2, 1, 5))}, "every stick has a cost or none"),
    ],
)
def test_a_list_that_makes_no_sense_is_refused(changes, words):
    with pytest.raises(ValueError, match=words):
        stems_and_bars(**changes)


def test_an_unknown_key_is_refused_with_its_path():
    raw = stems_and_bars().to_json()
    raw["pieces"][1]["colour"] = "red"
    with pytest.raises(ProblemRefused, match=r"problem\.pieces\[1\]\.colour: unknown key"):
        CutProblem.from_json(raw)


def test_a_value_of_the_wrong_kind_is_refused_with_its_path():
    raw = stems_and_bars().to_json()
    raw["kerf"] = 3.5
    with pytest.raises(ProblemRefused, match=r"problem\.kerf: must be a whole number"):
        CutProblem.from_json(raw)


@given(problems())
def test_json_and_back_is_the_same_problem(problem):
    assert CutProblem.from_json(problem.to_json()) == problem


def test_a_bought_stick_loses_both_ends_and_the_last_piece_needs_no_cut():
    """100 long, 5 off each end: 90 to use, and the 3 of the cut that is not made."""
    problem = stems_and_bars(kerf=3, trim=5)
    assert problem.room(Stick("bought", 100)) == 93
    assert problem.start(Stick("bought", 100)) == 5


def test_a_drop_has_one_end_sawn_already():
    problem, drop = stems_and_bars(kerf=3, trim=5), Stick("d", 100, 1, is_drop=True)
    assert (problem.room(drop), problem.start(drop)) == (98, 0)


def test_what_is_left_over_is_measured_as_it_lies():
    """100 less 5 of trim less 40 with its kerf: 55, the far end among it."""
    problem = stems_and_bars(kerf=3, trim=5)
    assert problem.left_over(Stick("bought", 100), 40) == 55
    assert problem.left_over(Stick("bought", 100), 97) == 0


def test_a_remnant_is_worth_something_from_the_keep_length_on():
    problem = stems_and_bars(keep_length=50, keep_percent=80)
    stick = Stick("bought", 100)
    assert problem.worth_of(stick, 49) == 0
    assert problem.worth_of(stick, 50) == 40


def test_without_a_keep_length_no_remnant_is_worth_anything():
    assert stems_and_bars().worth_of(Stick("bought", 100), 99) == 0


@given(problems())
def test_no_remnant_is_worth_more_than_its_stick_costs(problem):
    for stick in problem.sticks:
        for left in range(stick.length + 1):
            assert problem.worth_of(stick, left) <= problem.cost_of(stick)


def test_money_counts_where_it_is_given():
    problem = stems_and_bars(sticks=(Stick("20 ft", 100, None, 1890),), keep_length=10)
    assert problem.cost_of(problem.sticks[0]) == 1890
    assert problem.worth_of(problem.sticks[0], 50) == 756
