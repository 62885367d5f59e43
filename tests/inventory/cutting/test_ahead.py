"""Pieces that lie cut to length: counted, named, and left whole."""

from __future__ import annotations

import pytest

from inventory.cutting.actions import Asked, NothingToCut, make_cut_list
from inventory.cutting.queries import cut_list_of
from inventory.materials.models import Item
from inventory.measures.lengths import feet, inches
from tests.inventory.winter import Stock

POSTS = [("Post", feet(7), 4)]


def made(stock: Stock, pieces=POSTS, **asked: object):
    told = Asked(**asked)  # type: ignore[arg-type]
    return make_cut_list(shop=stock.shop, item=stock.tube, pieces=pieces, by=None, asked=told)


def test_pieces_that_lie_there_are_not_cut_again(stock) -> None:
    stock.bring(stock.tube, 3, feet(7))
    run = made(stock)
    told = cut_list_of(run)
    assert told.wanted == (("Post", feet(7), 1),)
    assert told.ahead == (("Post", feet(7), 3),)
    assert told.sentences[0] == ("3 × Post (84 in) lie cut to length already: take them first.")


def test_when_all_lie_there_nothing_is_cut(stock) -> None:
    stock.bring(stock.tube, 4, feet(7))
    with pytest.raises(NothingToCut, match="4 × Post"):
        made(stock)


def test_whoever_wants_more_has_all_cut_anew(stock) -> None:
    stock.bring(stock.tube, 4, feet(7))
    assert cut_list_of(made(stock, takes_ready=False)).wanted == (("Post", feet(7), 4),)


def test_a_piece_cut_ahead_is_never_sawn_up_for_another(stock) -> None:
    """An 84 in post would give four heads of 20 in and leave least: it is a post all the same."""
    stock.bring(stock.tube, 1, feet(7))
    run = made(stock, [("Head", inches(20), 4)])
    assert {stick["length"] for stick in run.problem["sticks"]} == {feet(20)}


def test_sticks_bought_at_the_length_of_a_piece_stay_sticks(stock) -> None:
    Item.objects.filter(pk=stock.tube.pk).update(bought_length_um=feet(7))
    stock.tube.refresh_from_db()
    stock.bring(stock.tube, 2, feet(7))
    run = made(stock, [("Head", inches(20), 4)])
    assert feet(7) in {stick["length"] for stick in run.problem["sticks"]}


def test_one_piece_is_told_of_as_one(stock) -> None:
    stock.bring(stock.tube, 1, feet(7))
    assert "1 × Post (84 in) lies" in cut_list_of(made(stock)).sentences[0]
