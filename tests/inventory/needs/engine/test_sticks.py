"""Do the pieces come off the sticks, and how many sticks to buy."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as some

from inventory.cutting.engine.search import Clock
from inventory.engines.stop import Seconds
from inventory.measures.lengths import feet, inches
from inventory.needs.engine.params import NeedsParams
from inventory.needs.engine.problem import Lot
from inventory.needs.engine.sticks import Answer, Steel, cut_problem
from tests.inventory.needs.engine.some import tube


def steel(seconds: float = 5) -> Steel:
    return Steel(Clock(Seconds(seconds)), NeedsParams(), 7)


def test_no_pieces_always_fit_and_need_no_stick():
    assert steel().fits(tube(), {}) == Answer(0, is_exact=True)
    assert steel().to_buy(tube(), {}) == Answer(0, is_exact=True)


def test_too_little_metal_in_all_is_a_sure_no():
    assert steel().fits(tube(Lot(feet(20), 1)), {inches(34): 8}) == Answer(1, is_exact=True)


def test_nine_sawn_rods_fit_a_stick_and_ten_do_not():
    item = tube(Lot(feet(20), 1))
    assert steel().fits(item, {inches(24): 9}).sticks == 0
    assert steel().fits(item, {inches(24): 10}) == Answer(1, is_exact=True)


def test_where_best_fit_fails_the_cut_list_finds_the_way():
    """Two sticks of 12: best fit puts 6 + 5 together and strands a 4; 6+6 and 4+4+4 fit."""
    item = tube(Lot(12, 2), kerf=0, stick_length=12)
    assert steel().fits(item, {6: 2, 4: 3}) == Answer(0, is_exact=True)
    tight = tube(Lot(10, 3), kerf=0, stick_length=10)
    assert steel().fits(tight, {5: 2, 4: 2, 3: 4}) == Answer(0, is_exact=True)


def test_metal_enough_but_no_way_to_cut_it_is_a_sure_no():
    """Two sticks of 10 hold two pieces of 6, not three, though 20 is more than 18."""
    item = tube(Lot(10, 2), kerf=0, stick_length=10)
    assert steel().fits(item, {6: 3}) == Answer(1, is_exact=True)


def test_sticks_in_the_rack_are_used_before_any_is_bought():
    """13 rods of 24 in: nine from the stick in the rack, four from one that is bought."""
    assert steel().to_buy(tube(Lot(feet(20), 1)), {inches(24): 13}) == Answer(1, is_exact=True)


def test_a_question_is_worked_out_once():
    asked = steel()
    first = asked.fits(tube(Lot(feet(20), 1)), {inches(24): 9})
    assert asked.fits(tube(Lot(feet(20), 1)), {inches(24): 9}) is first


def test_the_cut_list_behind_a_question_has_the_saw_of_the_item():
    problem = cut_problem(tube(Lot(500, 2, is_drop=True), trim=feet(1)), {60: 3}, can_buy=True)
    assert (problem.kerf, problem.trim) == (inches("1/8"), feet(1))
    assert [(s.count, s.cost, s.is_drop) for s in problem.sticks] == [
        (2, 0, True),
        (None, 1, False),
    ]


def test_a_drop_just_as_long_as_the_piece_needs_no_trim():
    """With an inch to trim, a 34 in drop gives a 34 in piece and no 33 1/2 in one."""
    item = tube(Lot(inches(34), 2, is_drop=True), trim=inches(1))
    assert steel().fits(item, {inches(34): 2}) == Answer(0, is_exact=True)
    assert steel().fits(item, {inches(34): 3}) == Answer(1, is_exact=True)
    assert steel().fits(item, {inches("33 1/2"): 1}) == Answer(1, is_exact=True)
    assert steel().to_buy(item, {inches(34): 2}) == Answer(0, is_exact=True)


def test_sticks_bought_at_the_length_of_the_piece_are_taken_as_they_come():
    item = tube(Lot(feet(4), 1), stick_length=feet(4), trim=inches(1))
    assert steel().to_buy(item, {feet(4): 3, inches(46): 1}) == Answer(3, is_exact=True)
    longer = tube(Lot(feet(9), 1), stick_length=feet(4), trim=inches(1))
    assert not steel().to_buy(longer, {feet(4): 1}).is_exact


@given(
    lots=some.lists(some.tuples(some.integers(3, 14), some.integers(0, 2)), max_size=3),
    pieces=some.dictionaries(some.integers(2, 12), some.integers(1, 2), max_size=3),
)
def test_setting_whole_pieces_apart_never_costs_an_answer(lots, pieces):
    """Without trim or blade the cut list alone decides it: both must say the same."""
    item = tube(*(Lot(*lot) for lot in lots), kerf=0, stick_length=14)
    plain = steel()._fits(cut_problem(item, pieces, can_buy=False))
    assert steel().fits(item, pieces) == plain
