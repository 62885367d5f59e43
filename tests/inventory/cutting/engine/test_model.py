"""The problem as numbers, and the programme over some patterns."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given

from inventory.cutting.engine.model import Master, made_by, reduce
from inventory.cutting.engine.patterns import Pattern
from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.engines.milp import Programme, Solution, Status
from inventory.engines.stop import Seconds
from tests.inventory.cutting.engine.some import problems


def test_parts_of_one_length_are_one_size_longest_first():
    pieces = (Piece("a", 10, 2), Piece("b", 20, 1), Piece("c", 10, 3), Piece("d", 15, 0))
    figures = reduce(CutProblem(pieces, (Stick("s", 100),), kerf=2))
    assert (figures.sizes, figures.demand) == ((22, 12), (1, 5))


def test_a_piece_longer_than_every_stick_and_a_stick_too_short_are_left_out():
    pieces = (Piece("a", 10, 1), Piece("b", 200, 1))
    figures = reduce(CutProblem(pieces, (Stick("s", 100), Stick("t", 5), Stick("u", 300, 0))))
    assert figures.sizes == (10,)
    assert [stick.label for stick in figures.sticks] == ["s"]


def test_nothing_wanted_is_nothing_to_count():
    figures = reduce(CutProblem((), ()))
    assert (figures.sizes, figures.sticks, figures.total({})) == ((), (), 0)


@given(problems())
def test_costs_of_many_totals_are_those_of_each(problem):
    figures = reduce(problem)
    for j, stick in enumerate(figures.sticks):
        taken = np.arange(stick.length + 5, dtype=np.int64)
        one_by_one = [figures.cost_at(j, int(total)) for total in taken]
        assert figures.costs_at(j, taken).tolist() == one_by_one


def test_metal_missing_is_counted_instead_of_sticks():
    figures = reduce(CutProblem((Piece("a", 10, 3),), (Stick("s", 25, 1),)), counts_missing=True)
    assert figures.total({}) == 30
    assert figures.total({Pattern(0, (2,)): 1}) == 10


def test_two_patterns_are_mixed_as_on_paper():
    """Stick 10: 6+3 or 3+3+3. Four 6 and six 3 take four of one and, relaxed, 2/3 of the other."""
    figures = reduce(CutProblem((Piece("a", 6, 4), Piece("b", 3, 6)), (Stick("s", 10),)))
    master = Master(figures, [Pattern(0, (1, 1)), Pattern(0, (0, 3))])
    relaxed = master.relax(Seconds(5), seed=1)
    assert relaxed is not None
    assert relaxed.times.tolist() == pytest.approx([4, 2 / 3])
    choice = master.choose(Seconds(5), seed=1)
    assert choice.is_done
    assert figures.total(choice.taken) == 50


def test_a_limited_stick_carries_a_charge():
    """Two short sticks would do with 6 each; only one is there, so it is worth 4 of the long."""
    problem = CutProblem((Piece("a", 6, 2),), (Stick("long", 10), Stick("short", 6, 1)))
    figures = reduce(problem)
    relaxed = Master(figures, [Pattern(0, (1,)), Pattern(1, (1,))]).relax(Seconds(5), seed=1)
    assert relaxed is not None
    assert relaxed.prices == pytest.approx([10])
    assert relaxed.charges == pytest.approx({1: 4})


def test_made_by_counts_all_sticks():
    assert made_by({Pattern(0, (1, 2)): 3, Pattern(0, (0, 1)): 2}, 2) == [3, 8]


@pytest.mark.parametrize("bound", [math.nan, -math.inf, math.inf])
def test_a_search_cut_off_before_it_has_a_bound_bounds_nothing(bound, monkeypatch):
    """On a busy machine the solver may stop so early that its bound is still endless."""
    cut_off = Solution(Status.FEASIBLE, 0.0, bound, np.array([1.0]), np.array([]), 0.1)
    monkeypatch.setattr(Programme, "solve", lambda *_, **__: cut_off)
    figures = reduce(CutProblem((Piece("a", 6, 1),), (Stick("s", 10),)))
    choice = Master(figures, [Pattern(0, (1,))]).choose(Seconds(5), seed=1)
    assert (choice.bound, choice.is_found, choice.is_done) == (0.0, True, False)
