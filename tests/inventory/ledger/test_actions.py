"""Goods in, tallies, counts, moves and corrections keep the book balanced."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from uuid import uuid4

import pytest

from inventory.ledger import actions
from inventory.ledger.models import Balance, Entry, GoodsIn, Line
from inventory.ledger.queries import balance_of, check, on_hand_of, pieces_of, shortfalls
from inventory.measures.lengths import feet, inches
from inventory.places.models import Shop
from tests.factories import make_item, make_place, make_recipe
from tests.inventory.ledger.conftest import AT, Bench

ONE = Decimal(1)


def test_goods_in_lie_in_their_place_and_say_where_they_came_from(bench: Bench) -> None:
    entry = bench.bring(bench.bolt, 4, source="Marsh Hardware", is_donated=True)
    assert Balance.objects.get(place=bench.shelf).quantity == 4
    assert entry.goods_in.source == "Marsh Hardware"
    assert entry.goods_in.is_donated


def test_goods_in_of_nothing_are_refused(bench: Bench) -> None:
    with pytest.raises(actions.PostingRefused, match="more than nothing"):
        bench.bring(bench.bolt, 0)


def test_goods_in_without_a_source_are_refused(bench: Bench) -> None:
    with pytest.raises(actions.PostingRefused, match="who it was bought from"):
        bench.bring(bench.bolt, 1, source="  ")


def test_metal_needs_a_length_and_bolts_have_none(bench: Bench) -> None:
    with pytest.raises(actions.PostingRefused, match="Tube needs a length"):
        bench.bring(bench.tube, 1)
    with pytest.raises(actions.PostingRefused, match="Bolts is not held by length"):
        bench.bring(bench.bolt, 1, length_um=feet(1))


def test_half_a_stick_is_refused(bench: Bench) -> None:
    with pytest.raises(actions.PostingRefused, match="finer than it is counted"):
        bench.bring(bench.tube, "1.5", length_um=feet(20))


def test_lines_that_do_not_balance_are_refused_and_nothing_is_written(bench: Bench) -> None:
    line = actions.NewLine(bench.bolt, Line.Account.SHELF, ONE, bench.shelf)
    with pytest.raises(actions.Unbalanced, match=r"Bolts: the lines are out by \+1"):
        actions.post(shop=bench.shop, kind=Entry.Kind.MOVED, lines=[line], by=None, at=AT)
    assert not Entry.objects.exists()


def test_a_time_without_zone_is_refused(bench: Bench) -> None:
    with pytest.raises(actions.PostingRefused, match="time zone"):
        bench.bring(bench.bolt, 1, at=datetime(2026, 1, 14, 19))


def test_the_place_of_another_shop_is_refused(bench: Bench, other_shop: Shop) -> None:
    with pytest.raises(actions.PostingRefused, match="another shop"):
        bench.bring(bench.bolt, 1, place=make_place(other_shop))
    assert not Balance.objects.exists()


def test_making_heads_cuts_tube_and_returns_the_drop(bench: Bench) -> None:
    bench.bring(bench.tube, 1, length_um=feet(20))
    bench.bring(bench.bolt, 3)
    bench.make(2)
    # 240 in less four pieces of 24 in and four cuts of 1/8 in leaves 143 1/2 in.
    assert pieces_of(bench.tube) == [(inches("143 1/2"), 1)]
    assert balance_of(bench.bolt) == 2
    assert balance_of(bench.head) == 2


def test_pieces_come_from_the_best_fitting_drop_first(bench: Bench) -> None:
    bench.bring(bench.tube, 1, length_um=feet(20))
    bench.bring(bench.tube, 2, length_um=inches(26))
    bench.bring(bench.bolt, 1)
    bench.make(1)
    assert pieces_of(bench.tube) == [(feet(20), 1)]


def test_pieces_cut_ahead_for_another_part_are_left_whole(bench: Bench) -> None:
    """The same rack as above, but a brace takes 26 in: those two are braces cut last night."""
    make_recipe(make_item(bench.shop, name="Brace"), (bench.tube, 1, inches(26)))
    bench.bring(bench.tube, 1, length_um=feet(20))
    bench.bring(bench.tube, 2, length_um=inches(26))
    bench.bring(bench.bolt, 1)
    bench.make(1)
    # 240 in less two pieces of 24 in and two cuts of 1/8 in
    assert pieces_of(bench.tube) == [(inches("191 3/4"), 1), (inches(26), 2)]


def test_a_remnant_too_short_to_keep_is_scrap(bench: Bench) -> None:
    bench.bring(bench.tube, 2, length_um=inches(30))
    bench.bring(bench.bolt, 1)
    entry = bench.make(1)
    scrap = entry.lines.get(account=Line.Account.SCRAP)
    assert (scrap.item, scrap.length_um, scrap.quantity) == (bench.tube, inches("5 7/8"), 2)


def test_bad_pieces_use_material_and_are_counted_as_scrap(bench: Bench) -> None:
    bench.bring(bench.tube, 1, length_um=feet(20))
    bench.bring(bench.bolt, 5)
    entry = bench.make(1, scrap=2)
    assert balance_of(bench.bolt) == Decimal("3.5")
    assert balance_of(bench.head) == 1
    assert entry.lines.get(account=Line.Account.SCRAP, item=bench.head).quantity == 2


def test_pieces_on_hold_are_not_good_ones(bench: Bench) -> None:
    bench.make(1, hold=3)
    there = on_hand_of(bench.head)
    assert (there.good, there.hold) == (1, 3)


def test_more_used_than_booked_is_written_as_a_count_difference(bench: Bench) -> None:
    entry = bench.make(1)
    assert entry.reason == "more used than booked: 1 × Tube, 240 in, 0.5 × Bolts"
    assert balance_of(bench.head) == 1
    assert {line.item for line in shortfalls(bench.shop, "2026-01-14")} == {bench.tube, bench.bolt}
    assert check(bench.shop) == ()


def test_making_is_refused_when_short_and_not_covered(bench: Bench) -> None:
    bench.bring(bench.tube, 1, length_um=feet(20))
    with pytest.raises(actions.NotEnough, match=r"Bolts: 0.5 wanted, 0 in the shop") as refused:
        bench.make(1, cover_shortfall=False)
    assert refused.value.item == bench.bolt
    assert pieces_of(bench.tube) == [(feet(20), 1)]


def test_making_without_metal_names_the_stick_that_is_missing(bench: Bench) -> None:
    with pytest.raises(actions.NotEnough, match=r"Tube, 240 in: 1 wanted, 0 in the shop"):
        bench.make(1, cover_shortfall=False)


def test_making_nothing_is_refused(bench: Bench) -> None:
    with pytest.raises(actions.PostingRefused, match="good, on hold or scrap"):
        bench.make(0)


def test_a_recipe_for_several_takes_its_share_for_one(bench: Bench, shop: Shop) -> None:
    bundle = make_item(shop, name="Tags")
    recipe = make_recipe(bundle, (bench.bolt, 1, 0), quantity=4)
    bench.bring(bench.bolt, 1)
    actions.make(shop=shop, recipe=recipe, good=2, hold=0, scrap=0, by=None, at=AT)
    assert balance_of(bench.bolt) == Decimal("0.5")


def test_things_without_a_home_lie_on_the_shop_floor(shop: Shop) -> None:
    loose = make_item(shop, home=None)
    recipe = make_recipe(loose)
    actions.make(shop=shop, recipe=recipe, good=2, hold=0, scrap=0, by=None, at=AT)
    assert Balance.objects.get(item=loose).place.name == "Shop floor"


def test_the_same_key_writes_once_and_returns_the_same_entry(bench: Bench) -> None:
    key = uuid4()
    first = bench.make(2, client_key=key)
    again = bench.make(2, client_key=key)
    assert first == again
    assert balance_of(bench.head) == 2


def test_a_repeated_delivery_keeps_one_source(bench: Bench) -> None:
    key = uuid4()
    bench.bring(bench.bolt, 2, client_key=key)
    bench.bring(bench.bolt, 2, client_key=key)
    assert GoodsIn.objects.count() == 1
    assert balance_of(bench.bolt) == 2


def test_a_count_writes_only_the_difference_with_its_reason(bench: Bench) -> None:
    bench.bring(bench.bolt, 5)
    counted = [actions.Counted(bench.bolt, 0, "good", Decimal(3))]
    entry = actions.count(
        shop=bench.shop, place=bench.shelf, counted=counted, by=None, at=AT, reason="lent out"
    )
    assert entry.reason == "lent out"
    assert balance_of(bench.bolt) == 3
    assert entry.lines.get(account=Line.Account.DIFFERENCE).quantity == 2


def test_a_count_that_agrees_writes_nothing(bench: Bench) -> None:
    bench.bring(bench.bolt, 5)
    counted = [actions.Counted(bench.bolt, 0, "good", Decimal(5))]
    entry = actions.count(shop=bench.shop, place=bench.shelf, counted=counted, by=None, at=AT)
    assert entry is None
    assert Entry.objects.count() == 1


def test_a_difference_without_reason_is_called_unexplained(bench: Bench) -> None:
    counted = [actions.Counted(bench.bolt, 0, "good", Decimal(5))]
    entry = actions.count(shop=bench.shop, place=bench.shelf, counted=counted, by=None, at=AT)
    assert entry.reason == "unexplained"


def test_counting_a_thing_twice_is_refused(bench: Bench) -> None:
    row = actions.Counted(bench.bolt, 0, "good", Decimal(5))
    with pytest.raises(actions.PostingRefused, match="counted twice"):
        actions.count(shop=bench.shop, place=bench.shelf, counted=[row, row], by=None, at=AT)


def test_what_is_carried_to_another_place_stays_the_same_in_all(bench: Bench) -> None:
    bench.bring(bench.bolt, 5)
    given = {"shop": bench.shop, "by": None, "at": AT}
    actions.move(
        item=bench.bolt, quantity=Decimal(2), source=bench.shelf, target=bench.rack, **given
    )
    assert Balance.objects.get(place=bench.rack).quantity == 2
    assert balance_of(bench.bolt) == 5


def test_more_than_lies_there_cannot_be_carried_away(bench: Bench) -> None:
    bench.bring(bench.bolt, 1)
    with pytest.raises(actions.NotEnough, match="Bolts: 2 wanted, 1 at Bolt shelf"):
        actions.move(
            shop=bench.shop, item=bench.bolt, quantity=Decimal(2),
            source=bench.shelf, target=bench.rack, by=None, at=AT,
        )  # fmt: skip


def test_hold_release_and_scrap_follow_one_piece(bench: Bench) -> None:
    bench.make(3)
    spot = {"shop": bench.shop, "item": bench.head, "place": bench.head.home}
    spot |= {"by": None, "at": AT}
    actions.hold(quantity=Decimal(2), reason="cracked bead?", **spot)
    actions.release(quantity=ONE, **spot)
    actions.scrap(quantity=ONE, condition="hold", reason="it broke", **spot)
    there = on_hand_of(bench.head)
    assert (there.good, there.hold) == (2, 0)


def test_nothing_is_put_on_hold_without_a_reason(bench: Bench) -> None:
    bench.make(1)
    with pytest.raises(actions.PostingRefused, match="give a reason"):
        actions.hold(
            shop=bench.shop, item=bench.head, quantity=ONE, place=bench.head.home,
            reason=" ", by=None, at=AT,
        )  # fmt: skip


def test_a_correction_takes_everything_back_even_the_shortfall(bench: Bench) -> None:
    bench.bring(bench.tube, 1, length_um=feet(20))
    entry = bench.make(2)
    actions.correct(entry, reason="counted the wrong rack", by=None, at=AT)
    assert pieces_of(bench.tube) == [(feet(20), 1)]
    assert balance_of(bench.head) == balance_of(bench.bolt) == 0
    assert not shortfalls(bench.shop, "2026-01-14")


def test_an_entry_is_taken_back_once(bench: Bench) -> None:
    entry = bench.make(2)
    correction = actions.correct(entry, reason="twice", by=None, at=AT)
    with pytest.raises(actions.AlreadyCorrected, match="taken back before"):
        actions.correct(entry, reason="again", by=None, at=AT)
    with pytest.raises(actions.AlreadyCorrected, match="not corrected"):
        actions.correct(correction, reason="again", by=None, at=AT)


def test_what_has_been_used_since_cannot_be_taken_back(bench: Bench, shop: Shop) -> None:
    entry = bench.make(1)
    complete = make_recipe(make_item(shop, name="Set"), (bench.head, 1, 0))
    actions.make(shop=shop, recipe=complete, good=1, hold=0, scrap=0, by=None, at=AT)
    with pytest.raises(actions.NotEnough, match="Head"):
        actions.correct(entry, reason="wrong", by=None, at=AT)


def test_thirds_of_a_bale_never_fall_below_nothing(bench: Bench) -> None:
    # As floats 0.3 - 0.1 - 0.2 is less than nothing, and the third move would be refused.
    bench.bring(bench.bolt, "0.3")
    spot = {"shop": bench.shop, "item": bench.bolt, "place": bench.shelf}
    for part in ("0.1", "0.2"):
        actions.scrap(quantity=Decimal(part), reason="mouldy", by=None, at=AT, **spot)
    assert balance_of(bench.bolt) == 0


@pytest.mark.parametrize("pieces", [1, 40])
def test_a_tally_line_takes_a_dozen_queries_whatever_its_size(
    bench: Bench, pieces: int, django_assert_max_num_queries
) -> None:
    bench.bring(bench.tube, 20, length_um=feet(20))
    bench.bring(bench.bolt, 40)
    with django_assert_max_num_queries(14):
        bench.make(pieces, client_key=uuid4())
