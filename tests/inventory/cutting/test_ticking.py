"""Ticks at the saw: one entry each, once a key, taken back by their mirror image."""

from __future__ import annotations

from collections import Counter
from uuid import uuid4

import pytest

from inventory.cutting.actions import (
    CutListRefused,
    CutRefused,
    Done,
    Unlike,
    carry_on,
    cut_unlike,
    make_cut_list,
    take_back,
)
from inventory.cutting.models import CutListRun, CutTick
from inventory.cutting.progress import progress_of, still_missing
from inventory.cutting.queries import strips_of
from inventory.ledger.actions import NotEnough, make, move
from inventory.ledger.models import Entry
from inventory.ledger.queries import check, pieces_of
from inventory.materials.queries import recipe_of
from inventory.measures.lengths import feet, inches
from tests.factories import make_place
from tests.inventory.cutting.conftest import AT, metal
from tests.inventory.winter import Stock


def on_shelf(stock: Stock) -> dict[int, int]:
    return dict(pieces_of(stock.tube))


def posts(stock: Stock, sets: int) -> CutListRun:
    """Two posts come off a stick of 20 ft and leave 71 3/4 in."""
    pieces = [("Post", feet(7), sets)]
    return make_cut_list(shop=stock.shop, item=stock.tube, pieces=pieces, by=None)


def other_stick(run: CutListRun, pattern: int = 0, **told: object) -> CutTick:
    usual = {"length_um": feet(20) - inches("1/4"), "reason": "short", "pieces": {}}
    done = Done(by=None, at=AT)
    return cut_unlike(run=run, pattern=pattern, unlike=Unlike(**(usual | told)), done=done)  # type: ignore[arg-type]


def test_a_tick_is_one_entry_sticks_out_and_pieces_and_drops_in(stock, press) -> None:
    tick = press(posts(stock, 4), sticks=None)
    assert tick.entry.kind == Entry.Kind.CUT
    assert on_shelf(stock) == {feet(20): 1, feet(7): 4, inches("71 3/4"): 2}
    assert (tick.pieces, tick.sticks) == ({"Post": 4}, 2)
    assert check(stock.shop) == ()


def test_what_stays_used_is_what_the_blade_took(stock, press) -> None:
    press(posts(stock, 4), sticks=None)
    assert metal(stock, "used") == 4 * inches("1/8")
    # goods in against the outside account: the book as a whole comes to nothing
    assert metal(stock, "shelf", "used", "scrap", "outside", "difference") == 0


def test_short_ends_are_scrap(stock, press) -> None:
    stock.tube.keep_um = inches(80)
    stock.tube.save()
    press(posts(stock, 2))
    assert metal(stock, "scrap") == inches("71 3/4")
    assert on_shelf(stock) == {feet(20): 2, feet(7): 2}


def test_one_key_counts_once(stock, press) -> None:
    run, key = posts(stock, 4), uuid4()
    assert press(run, key=key) == press(run, key=key)
    assert progress_of(run).sticks_done == 1


def test_no_more_sticks_than_the_list_has(stock, press) -> None:
    run = posts(stock, 4)
    with pytest.raises(CutRefused, match="Only 2 of 2"):
        press(run, sticks=3)
    press(run, sticks=None)
    with pytest.raises(CutRefused, match="All 2 sticks"):
        press(run, sticks=None)


def test_a_pattern_that_is_not_there_is_refused(run, press) -> None:
    with pytest.raises(CutRefused, match="no such pattern"):
        press(run, pattern=9)


def test_taking_back_leaves_the_rack_as_it_was(stock, press) -> None:
    run, before = posts(stock, 4), on_shelf(stock)
    tick = press(run, sticks=None)
    take_back(tick, by=None, at=AT)
    assert on_shelf(stock) == before
    assert progress_of(run).sticks_done == 0
    assert press(run, sticks=None).sticks == 2


def test_what_was_used_since_cannot_be_taken_back(stock, press) -> None:
    tick = press(posts(stock, 2))
    make(shop=stock.shop, recipe=recipe_of(stock.post), good=1, by=None, at=AT)
    with pytest.raises(NotEnough):
        take_back(tick, by=None, at=AT)


def test_drops_get_a_number_each_never_used_twice_and_a_place(stock, press) -> None:
    rack, run = make_place(stock.shop, name="Drop rack"), posts(stock, 4)
    first = press(run, drop_place=rack)
    take_back(first, by=None, at=AT)
    second = press(run, drop_place=rack)
    assert (first.drop_number, second.drop_number) == (1, 2)
    assert second.drop_um == inches("71 3/4")
    assert stock.tube.balances.get(place=rack, quantity__gt=0).length_um == inches("71 3/4")


def test_sticks_come_from_their_home_first_and_then_from_where_most_lie(stock, press) -> None:
    yard = make_place(stock.shop, name="Far yard")
    move(
        shop=stock.shop, item=stock.tube, quantity=2, source=stock.tube.home, target=yard,
        length_um=feet(20), by=None, at=AT,
    )  # fmt: skip
    press(posts(stock, 4), sticks=None)
    left = stock.tube.balances.filter(length_um=feet(20), quantity__gt=0)
    assert [(row.place.name, row.quantity) for row in left] == [("Far yard", 1)]


def test_a_stick_that_was_not_booked_is_cut_all_the_same_and_told(stock, press) -> None:
    first, second = posts(stock, 6), posts(stock, 6)
    press(first, sticks=None)
    entry = press(second, sticks=None).entry
    assert entry.reason == "more cut than booked: 3 × Tube, 240 in"
    assert metal(stock, "difference") == -3 * feet(20)
    assert check(stock.shop) == ()


def test_a_short_stick_gives_what_came_out_right_and_the_book_its_true_length(stock) -> None:
    run = posts(stock, 6)
    tick = other_stick(run, pieces={"Post": 1}, reason="third post a quarter inch short")
    assert tick.entry.kind == Entry.Kind.CUT
    assert "was 239 3/4 in: third post a quarter inch short" in tick.entry.reason
    assert on_shelf(stock) == {feet(20): 2, feet(7): 1, inches("155 5/8"): 1}
    assert metal(stock, "difference") == inches("1/4")


def test_a_short_stick_that_nobody_cut_is_a_count_difference(stock) -> None:
    tick = other_stick(posts(stock, 6))
    assert tick.entry.kind == Entry.Kind.COUNTED
    assert on_shelf(stock) == {feet(20): 2, feet(20) - inches("1/4"): 1}


def test_a_damaged_stick_is_scrap_with_its_reason(stock) -> None:
    tick = other_stick(posts(stock, 6), length_um=feet(20), reason="bent", is_scrapped=True)
    assert (tick.entry.kind, tick.how) == (Entry.Kind.SCRAP, "scrapped")
    assert on_shelf(stock) == {feet(20): 2}
    assert metal(stock, "scrap") == feet(20)


def test_another_stick_without_a_reason_is_refused(stock) -> None:
    with pytest.raises(CutRefused, match="Say what was wrong"):
        other_stick(posts(stock, 6), reason=" ")


def test_pieces_that_do_not_fit_the_true_length_are_refused(stock) -> None:
    with pytest.raises(CutRefused, match="do not fit 160 in"):
        other_stick(posts(stock, 6), length_um=inches(160), pieces={"Post": 2})
    with pytest.raises(CutRefused, match="2 come off this pattern, not 3"):
        other_stick(posts(stock, 6), pieces={"Post": 3})


def test_the_rest_is_worked_out_anew_from_what_lies_there_now(stock, press) -> None:
    run = posts(stock, 6)
    press(run)
    other_stick(run, pieces={"Post": 1}, is_scrapped=True)
    before = dict(run.result)
    rest = carry_on(run, by=None)
    run.refresh_from_db()
    assert (run.replaced_by, run.result) == (rest, before)
    assert [(p["label"], p["count"]) for p in rest.problem["pieces"]] == [("Post", 3)]
    assert progress_of(run).pieces_done == 3


def test_pieces_cut_by_the_list_before_are_neither_cut_up_nor_counted_again(stock, press) -> None:
    run = posts(stock, 6)
    press(run)
    sticks = {stick["length"] for stick in carry_on(run, by=None).problem["sticks"]}
    assert feet(7) not in sticks
    assert feet(20) in sticks


def test_a_list_that_was_carried_on_is_neither_ticked_nor_taken_back(stock, press) -> None:
    run = posts(stock, 6)
    tick = press(run)
    carry_on(run, by=None)
    with pytest.raises(CutRefused, match="tick that list"):
        press(run)
    with pytest.raises(CutRefused, match="worked out anew"):
        take_back(tick, by=None, at=AT)
    with pytest.raises(CutListRefused, match="before"):
        carry_on(CutListRun.objects.get(pk=run.pk), by=None)


def test_a_stale_page_cannot_carry_one_list_on_twice(stock, press) -> None:
    run, stale = posts(stock, 6), CutListRun.objects.get()
    press(run)
    carry_on(run, by=None)
    with pytest.raises(CutListRefused, match="meanwhile"):
        carry_on(stale, by=None)
    assert CutListRun.objects.count() == 2


def test_nothing_is_carried_on_when_all_is_cut(stock, press) -> None:
    run = posts(stock, 2)
    press(run)
    with pytest.raises(CutListRefused, match="Every piece"):
        carry_on(run, by=None)


def test_a_whole_list_leaves_exactly_the_pieces_that_were_wanted(stock, run, press) -> None:
    for at in range(len(strips_of(run))):
        press(run, at, None)
    told = progress_of(run)
    assert (told.is_done, told.pieces_done, told.missing) == (True, told.pieces, ())
    assert still_missing(run) == []
    shelf = Counter(on_shelf(stock))
    assert (shelf[feet(7)], shelf[inches(20)]) == (4, 8)
    assert metal(stock, "shelf", "used", "scrap", "outside") == 0


def test_making_takes_the_piece_cut_ahead_with_no_blade(stock, press) -> None:
    stock.tube.trim_um = inches(1)
    stock.tube.save()
    press(posts(stock, 2))
    used = metal(stock, "used")
    make(shop=stock.shop, recipe=recipe_of(stock.post), good=2, by=None, at=AT)
    assert metal(stock, "used") - used == 2 * feet(7)
    assert feet(7) not in on_shelf(stock)
