"""What changed between two plans, as people hear it."""

from __future__ import annotations

import random

from workshops.nights.differences import Moved, Stand, differences, stands_in, turned

CUT, BEND, WELD, WATCH = 1, 2, 3, 9


def test_the_same_plan_in_another_order_has_no_differences() -> None:
    plan = [Stand(person, block, CUT) for person in range(5) for block in range(3)]
    shuffled = random.Random(7).sample(plan, len(plan))
    assert differences(plan, shuffled) == []


def test_one_move_over_blocks_in_a_row_is_told_once() -> None:
    before = [Stand(1, block, CUT) for block in range(4)]
    after = [Stand(1, 0, CUT), *(Stand(1, block, BEND) for block in (1, 2, 3))]
    assert differences(before, after) == [Moved(1, (1, 2, 3), before[1], after[1])]


def test_the_same_move_with_a_block_between_is_told_twice() -> None:
    before = [Stand(1, block, CUT) for block in range(3)]
    after = [Stand(1, 0, BEND), Stand(1, 1, CUT), Stand(1, 2, BEND)]
    assert [each.blocks for each in differences(before, after)] == [(0,), (2,)]


def test_who_loses_or_gains_a_place_is_told_with_none_on_the_other_side() -> None:
    gone, new = Stand(1, 0, CUT), Stand(2, 0, CUT)
    assert differences([gone], [new]) == [Moved(1, (0,), gone, None), Moved(2, (0,), None, new)]


def test_learning_is_another_place_and_leading_is_none() -> None:
    works, leads, learns = (Stand(1, 0, CUT, role) for role in ("works", "leads", "learns"))
    assert differences([works], [leads]) == []
    assert differences([works], [learns]) == [Moved(1, (0,), works, learns)]


def test_applying_the_differences_to_the_first_plan_gives_the_second() -> None:
    drawn = random.Random(11)
    for _ in range(50):
        before, after = _plan(drawn), _plan(drawn)
        seats = {(each.person, each.block): each for each in before}
        for moved in differences(before, after):
            for block in moved.blocks:
                seats.pop((moved.person, block), None)
                if moved.now:
                    seats[moved.person, block] = moved.now
        places = {seat: stand.told for seat, stand in seats.items()}
        assert places == {(each.person, each.block): each.told for each in after}


def test_stations_that_open_and_close_are_those_of_one_plan_alone() -> None:
    found = turned([Stand(1, 0, CUT), Stand(2, 0, WELD)], [Stand(1, 0, CUT), Stand(2, 0, BEND)])
    assert (found.opened, found.closed) == ((BEND,), (WELD,))


def test_a_stored_run_is_read_with_its_watch() -> None:
    result = {
        "placings": [{"person": "4", "block": 0, "station": "3", "bench": 1, "role": "works"}],
        "watch": [{"person": "5", "block": 1, "room": "7", "start": 1140, "end": 1200}],
    }
    assert stands_in(result, WATCH) == [Stand(4, 0, WELD), Stand(5, 1, WATCH, "watches")]
    assert stands_in(result, None) == [Stand(4, 0, WELD)]


def _plan(drawn: random.Random) -> list[Stand]:
    seats = [(person, block) for person in range(6) for block in range(4)]
    chosen = drawn.sample(seats, 16)
    roles = ("works", "learns", "leads")
    return [Stand(p, b, drawn.randint(1, 3), drawn.choice(roles)) for p, b in chosen]
