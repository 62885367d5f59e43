"""How far a list is: sticks, pieces, and what the sticks still to come will not give."""

from __future__ import annotations

from inventory.cutting.actions import Done, Unlike, cut_unlike, take_back
from inventory.cutting.progress import progress_of, sticks_cut, sticks_of, still_missing
from inventory.cutting.queries import strips_of
from inventory.measures.lengths import feet
from tests.inventory.cutting.conftest import AT


def test_nothing_is_cut_of_a_new_list(run) -> None:
    told = progress_of(run)
    assert (told.sticks_done, told.pieces_done, told.pieces) == (0, 0, 12)
    assert told.sticks == sticks_of(run)
    assert (told.is_begun, told.is_done, told.is_behind) == (False, False, False)


def test_ticks_count_and_those_taken_back_do_not(run, press) -> None:
    tick = press(run)
    assert progress_of(run).sticks_done == 1
    assert sticks_cut([run]) == {run.pk: 1}
    take_back(tick, by=None, at=AT)
    assert progress_of(run).sticks_done == 0
    assert sticks_cut([run]) == {}


def test_a_thrown_stick_leaves_pieces_that_no_stick_gives(run, press) -> None:
    unlike = Unlike(length_um=feet(20), reason="bent", pieces={}, is_scrapped=True)
    cut_unlike(run=run, pattern=0, unlike=unlike, done=Done(by=None, at=AT))
    told = progress_of(run)
    assert told.is_behind
    assert told.pieces_left == told.pieces - sum(
        len(bench.pieces) * pattern.left
        for bench, pattern in zip(strips_of(run), told.patterns, strict=True)
    )


def test_what_is_missing_is_told_by_name_and_length(run, press) -> None:
    before = sum(count for _, _, count in still_missing(run))
    tick = press(run)
    after = sum(count for _, _, count in still_missing(run))
    assert before - after == sum(tick.pieces.values())


def test_progress_takes_one_question(run, press, django_assert_num_queries) -> None:
    press(run)
    press(run, len(strips_of(run)) - 1)
    with django_assert_num_queries(1):
        progress_of(run)
