"""Cutting by hand: best fit with the longest first, and set by set."""

from __future__ import annotations

from hypothesis import given

from inventory.cutting.engine.baseline import best_fit_decreasing, cut_set_by_set
from inventory.cutting.engine.model import made_by, reduce
from inventory.cutting.engine.patterns import Pattern
from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.measures.lengths import feet, inches
from tests.inventory.cutting.engine.some import problems, stems_and_bars


def by_hand(*sizes: int, stick: int = 10) -> list[tuple[int, ...]]:
    pieces = tuple(Piece(f"p{k}", size, 1) for k, size in enumerate(sizes))
    taken = best_fit_decreasing(reduce(CutProblem(pieces, (Stick("s", stick),))))
    return sorted(pattern.counts for pattern, n in taken.items() for _ in range(n))


def test_nothing_wanted_takes_nothing():
    assert best_fit_decreasing(reduce(CutProblem((), (Stick("s", 10),)))) == {}


def test_each_piece_goes_where_least_room_is_left():
    """7 and 6 open a stick each; the 3 goes to the 7 and the 4 to the 6, both filled."""
    assert by_hand(7, 6, 4, 3) == [(0, 1, 1, 0), (1, 0, 0, 1)]


def test_a_drop_is_used_when_that_is_cheaper():
    problem = CutProblem((Piece("a", 4, 1),), (Stick("s", 10), Stick("d", 5, 1, is_drop=True)))
    assert best_fit_decreasing(reduce(problem)) == {Pattern(1, (1,)): 1}


@given(problems())
def test_no_more_is_cut_than_wanted_and_no_stick_used_that_is_not_there(problem):
    figures = reduce(problem)
    taken = best_fit_decreasing(figures)
    made = made_by(taken, len(figures.sizes))
    assert all(got <= want for got, want in zip(made, figures.demand, strict=True))
    assert all(figures.taken(p.counts) <= figures.rooms[p.stick] for p in taken)
    for j, stick in enumerate(figures.sticks):
        used = sum(n for pattern, n in taken.items() if pattern.stick == j)
        assert stick.count is None or used <= stick.count


def test_four_whole_sets_come_off_a_stick():
    """4 x (34 + 16) + 8 cuts leave less than a fifth set: 75 sticks for 300 sets."""
    found = cut_set_by_set(stems_and_bars())
    assert found is not None
    assert (found.sets_per_stick, found.sticks, found.metal) == (4, 75, 75 * feet(20))


def test_sets_are_told_by_per_set_and_the_rest_is_cut_best_fit():
    """Ten sets of 30 + 2 x 15 from 65, one a stick; three 30 are left over: two more sticks."""
    pieces = (Piece("a", 30, 13, per_set=1), Piece("b", 15, 20, per_set=2))
    found = cut_set_by_set(CutProblem(pieces, (Stick("s", 65),)))
    assert found is not None
    assert (found.sets_per_stick, found.sticks) == (1, 12)


def test_a_set_longer_than_a_stick_gets_sticks_of_its_own():
    pieces = (Piece("a", 60, 5), Piece("b", 60, 5))
    found = cut_set_by_set(CutProblem(pieces, (Stick("s", 65),)))
    assert found is not None
    assert (found.sets_per_stick, found.sticks) == (0, 10)


def test_pieces_that_form_no_sets_are_not_compared():
    pieces = (Piece("a", 60, 5), Piece("b", 60, 7))
    assert cut_set_by_set(CutProblem(pieces, (Stick("s", 65),))) is None


def test_sets_are_not_compared_when_the_sticks_do_not_suffice():
    assert cut_set_by_set(stems_and_bars(sticks=(Stick("20 ft", feet(20), 3),))) is None


def test_set_by_set_takes_the_next_kind_of_stick_when_one_runs_out():
    """12 sets: 8 off two long sticks, then two a stick off two short ones."""
    sticks = (Stick("20 ft", feet(20), 2), Stick("10 ft", feet(10), 9))
    by_hand = cut_set_by_set(stems_and_bars(12, sticks=sticks))
    assert (by_hand.sticks, by_hand.metal) == (4, 2 * feet(20) + 2 * feet(10))


def test_set_by_set_of_more_sets_than_the_sticks_give_is_not_told():
    assert cut_set_by_set(stems_and_bars(12, sticks=(Stick("20 ft", feet(20), 2),))) is None


def test_pieces_beyond_whole_sets_come_off_sticks_that_are_left():
    """4 sets fill the first stick; the fifth stem needs the second."""
    pieces = (Piece("stem", inches(34), 5, 1), Piece("bar", inches(16), 4, 1))
    sticks = (Stick("20 ft", feet(20), 2),)
    assert cut_set_by_set(stems_and_bars(sticks=sticks, pieces=pieces)).sticks == 2


def test_when_sticks_that_hold_a_set_run_out_the_set_is_pieced_together():
    """The stem off one drop of 40 in, the bar off another of 20 in."""
    drops = (Stick("d", inches(40), 1, is_drop=True), Stick("e", inches(20), 1, is_drop=True))
    by_hand = cut_set_by_set(stems_and_bars(1, sticks=drops, pieces=(
        Piece("stem", inches(34), 1, 1), Piece("bar", inches(16), 1, 1),
    )))  # fmt: skip
    assert by_hand.sticks == 2
