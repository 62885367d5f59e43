"""Whole plans near a relaxed one."""

from __future__ import annotations

import numpy as np

from inventory.cutting.engine.baseline import best_fit_decreasing
from inventory.cutting.engine.model import Relaxed, made_by, reduce
from inventory.cutting.engine.params import CuttingParams
from inventory.cutting.engine.patterns import Pattern
from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.engine.rounding import (
    rest_of,
    round_off,
    together,
    whole_part,
    without_extra,
)
from inventory.cutting.engine.search import Clock, Search
from inventory.engines.stop import Seconds


def test_a_piece_too_many_is_left_off_where_that_frees_a_stick():
    """Stick of 10, 5 + 5 and 5 alone for two wanted: the lone one goes, and its stick with it."""
    figures = reduce(CutProblem((Piece("a", 5, 2),), (Stick("s", 10),)))
    assert without_extra(figures, {Pattern(0, (2,)): 1, Pattern(0, (1,)): 1}) == {
        Pattern(0, (2,)): 1
    }


def test_a_plan_with_nothing_too_many_stays_as_it_is():
    figures = reduce(CutProblem((Piece("a", 5, 2),), (Stick("s", 10),)))
    plan = {Pattern(0, (1,)): 2}
    assert without_extra(figures, plan) is plan


def test_the_whole_part_is_kept_and_the_rest_filled_up():
    figures = reduce(CutProblem((Piece("a", 6, 5), Piece("b", 4, 5)), (Stick("s", 10),)))
    search = Search(figures, CuttingParams(), Clock(Seconds(5)), 1, best_fit_decreasing(figures))
    search.best, search.patterns = {Pattern(0, (1, 0)): 5, Pattern(0, (0, 1)): 5}, {}
    search.patterns[Pattern(0, (1, 1))] = None
    round_off(search, Relaxed(np.array([4.5]), [], {}))
    assert search.cost == 50
    assert made_by(search.best, 2) == [5, 5]


def test_rounding_up_never_takes_a_stick_that_is_not_there():
    figures = reduce(CutProblem((Piece("a", 5, 3),), (Stick("s", 10), Stick("d", 5, 1))))
    search = Search(figures, CuttingParams(), Clock(Seconds(5)), 1, best_fit_decreasing(figures))
    search.patterns = {Pattern(1, (1,)): None}
    round_off(search, Relaxed(np.array([1.5]), [], {}))
    assert sum(n for p, n in (search.best or {}).items() if p.stick == 1) <= 1


def test_a_relaxed_plan_is_a_whole_part_and_fractions():
    figures = reduce(CutProblem((Piece("a", 5, 9),), (Stick("s", 10),)))
    search = Search(figures, CuttingParams(), Clock(Seconds(5)), 1)
    names = [Pattern(0, (2,)), Pattern(0, (1,))]
    search.patterns = dict.fromkeys(names)
    whole, fractions = whole_part(search, Relaxed(np.array([3.9999999, 0.25]), [], {}))
    assert whole == {names[0]: 4}  # as good as four
    assert fractions == {names[1]: 0.25}


def test_the_rest_is_what_is_left_of_sticks_and_pieces():
    figures = reduce(CutProblem((Piece("a", 5, 9),), (Stick("s", 10), Stick("d", 5, 1))))
    rest = rest_of(figures, {Pattern(0, (2,)): 3, Pattern(1, (1,)): 1})
    assert rest is not None
    assert rest.demand == (2,)
    assert [stick.count for stick in rest.sticks] == [None, 0]
    assert rest_of(figures, {Pattern(1, (1,)): 2}) is None


def test_two_plans_together_add_up():
    a, b = Pattern(0, (2,)), Pattern(0, (1,))
    assert together({a: 3}, {a: 1, b: 2}) == {a: 4, b: 2}
