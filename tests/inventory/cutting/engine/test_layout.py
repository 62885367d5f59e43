"""The sheet at the saw: labels, marks, and few settings of the stop block."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given

from inventory.cutting.engine.layout import runs_of
from inventory.cutting.engine.model import reduce
from inventory.cutting.engine.patterns import Pattern
from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.engine.solve import solve
from inventory.engines.stop import Seconds
from tests.examples import examples
from tests.inventory.cutting.engine.some import problems


def runs(problem: CutProblem, taken: dict[Pattern, int]):
    return runs_of(reduce(problem), taken, tries=100, seed=1)


def test_marks_run_from_the_first_end_with_the_trim_first():
    """100 long, trim 5, kerf 2: saw at 5, at 45 (40 long), then at 77 (30 long from 47)."""
    problem = CutProblem((Piece("a", 40, 1), Piece("b", 30, 1)), (Stick("s", 100),), 2, 5)
    (run,) = runs(problem, {Pattern(0, (1, 1)): 1})
    assert run.marks == (5, 45, 77)
    assert [(cut.start, cut.end) for cut in run.cuts] == [(5, 45), (47, 77)]
    assert run.left_over == 21


def test_no_mark_where_the_stick_ends():
    problem = CutProblem((Piece("a", 50, 2),), (Stick("s", 100),))
    (run,) = runs(problem, {Pattern(0, (2,)): 1})
    assert run.marks == (50,)


def test_parts_of_one_length_keep_their_own_labels():
    pieces = (Piece("left leg", 50, 3), Piece("right leg", 50, 2))
    found = runs(CutProblem(pieces, (Stick("s", 100),)), {Pattern(0, (2,)): 2, Pattern(0, (1,)): 1})
    made = {"left leg": 0, "right leg": 0}
    for run in found:
        for label, count in run.counts.items():
            made[label] += count * run.times
    assert made == {"left leg": 3, "right leg": 2}


def test_runs_that_share_a_length_follow_each_other():
    """40+10, 30+20, 40+30, 20+10 in a ring of shared lengths: 5 settings instead of 8."""
    pieces = tuple(Piece(f"{size}", size, 2) for size in (40, 30, 20, 10))
    taken = {
        Pattern(0, (1, 0, 0, 1)): 1,
        Pattern(0, (0, 1, 1, 0)): 1,
        Pattern(0, (1, 1, 0, 0)): 1,
        Pattern(0, (0, 0, 1, 1)): 1,
    }
    found = runs(CutProblem(pieces, (Stick("s", 70),)), taken)
    stops = [0, *(stop for run in found for stop in run.stops)]
    assert sum(1 for a, b in pairwise(stops) if a != b) == 5


@given(problems())
@examples(40)
def test_each_length_is_set_once_for_a_run(problem):
    for run in solve(problem, Seconds(1)).runs:
        lengths = [cut.length for cut in run.cuts]
        switches = sum(1 for a, b in pairwise(lengths) if a != b)
        assert switches == len(set(lengths)) - 1


@given(problems())
@examples(40)
def test_ordering_never_sets_the_stop_more_often_than_run_by_run(problem):
    plan = solve(problem, Seconds(1))
    assert plan.stop_changes <= sum(len(run.stops) for run in plan.runs)
