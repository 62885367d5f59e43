"""A cut list is made from what lies in the rack, and kept."""

from __future__ import annotations

import pytest

from inventory.cutting.actions import CutListRefused, make_cut_list
from inventory.cutting.engine.problem import CutProblem
from inventory.cutting.models import CutListRun
from inventory.cutting.queries import cut_list_of, cut_lists_of, spelled_marks
from inventory.ledger.queries import pieces_of
from inventory.measures.lengths import Units, feet, inches
from inventory.places.models import Shop
from tests.inventory.winter import Stock, make_stock


@pytest.fixture
def stock(shop: Shop) -> Stock:
    stock = make_stock(shop)
    stock.bring(stock.tube, 2, feet(20))
    return stock


def cut(stock: Stock, posts: int, **rest) -> CutListRun:
    pieces = [("Post", feet(7), posts), ("Head piece", inches(20), 2)]
    return make_cut_list(shop=stock.shop, item=stock.tube, pieces=pieces, by=None, **rest)


def test_a_cut_list_is_proven_kept_and_can_be_repeated(stock: Stock) -> None:
    run = cut(stock, 2)
    assert run.status == "proven"
    assert CutProblem.from_json(run.problem).pieces[0].count == 2
    assert run.objective == run.bound


def test_nothing_moves_until_the_pieces_are_tallied(stock: Stock) -> None:
    cut(stock, 2)
    assert pieces_of(stock.tube) == [(feet(20), 2)]


def test_marks_run_from_one_end_with_a_kerf_at_each_cut(stock: Stock) -> None:
    (strip,) = cut_list_of(cut(stock, 2)).strips
    # posts of 84 in and head pieces of 20 in, each cut taking 1/8 in
    assert sorted(piece.length_um for piece in strip.pieces) == [
        inches(20), inches(20), feet(7), feet(7)
    ]  # fmt: skip
    starts = [piece.start_um for piece in strip.pieces]
    ends = [piece.start_um + piece.length_um for piece in strip.pieces]
    assert starts == [0, *(end + inches("1/8") for end in ends[:-1])]
    assert spelled_marks(strip, Units.INCH)[-1] == "208 3/8 in"


def test_the_stretches_of_a_strip_fill_the_stick_but_for_the_kerfs(stock: Stock) -> None:
    (strip,) = cut_list_of(cut(stock, 2)).strips
    covered = sum(part.length_um for part in strip.stretches)
    assert strip.length_um - covered == 4 * inches("1/8")
    assert strip.stretches[-1].kind == "drop"


def test_pieces_that_cannot_be_cut_are_named_with_the_metal_missing(stock: Stock) -> None:
    run = cut(stock, 6)
    told = cut_list_of(run)
    assert run.status == "impossible"
    assert told.missing == (("Post", 2),)
    assert any("of metal is missing" in sentence for sentence in told.sentences)


def test_sentences_are_in_the_shops_own_units(stock: Stock) -> None:
    Shop.objects.update(units="mm")
    stock.tube.refresh_from_db()
    assert any("mm" in sentence for sentence in cut_list_of(cut(stock, 1)).sentences)


def test_an_empty_rack_says_what_is_missing(shop: Shop) -> None:
    told = cut_list_of(cut(make_stock(shop), 1))
    assert told.strips == ()
    assert told.longest_um == 1
    assert dict(told.missing) == {"Post": 1, "Head piece": 2}


def test_a_cut_list_of_straw_is_refused(stock: Stock) -> None:
    with pytest.raises(CutListRefused, match="not cut from by length"):
        make_cut_list(shop=stock.shop, item=stock.straw, pieces=[("x", 1, 1)], by=None)


def test_a_cut_list_without_pieces_is_refused(stock: Stock) -> None:
    with pytest.raises(CutListRefused, match="at least one piece"):
        make_cut_list(shop=stock.shop, item=stock.tube, pieces=[("Post", feet(7), 0)], by=None)


def test_another_shops_metal_is_refused(stock: Stock, other_shop: Shop) -> None:
    with pytest.raises(CutListRefused):
        make_cut_list(shop=other_shop, item=stock.tube, pieces=[("x", 1, 1)], by=None)


def test_cut_lists_are_found_by_their_night(stock: Stock) -> None:
    run = cut(stock, 1, night_key="2026-01-14")
    cut(stock, 1)
    assert list(cut_lists_of(stock.shop, "2026-01-14")) == [run]
    assert cut_lists_of(stock.shop).count() == 2
