"""Do the pieces come off the sticks, and how many sticks to buy."""

from __future__ import annotations

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
