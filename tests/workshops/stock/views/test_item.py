"""Where one thing lies, what it is for, and what happened to it."""

from __future__ import annotations

from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory.ledger.models import Balance
from inventory.ledger.queries import balance_of, on_hand_of
from tests.factories import make_item, make_place
from workshops.stock.pacing import LEAF


def test_the_page_shows_places_lengths_and_uses(stock, keeper, at) -> None:
    page = keeper.get(at("item", "tube")).content.decode()
    assert "2 × 240 in" in page
    assert "into <a" in page
    assert "Head" in page
    assert "84 in" in page


def test_a_made_thing_shows_what_it_is_made_from(stock, keeper, at) -> None:
    assert "from <a" in keeper.get(at("item", "cylinder")).content.decode()


def test_an_unknown_item_is_not_found(stock, keeper, at) -> None:
    assert keeper.get(at("item", "canoe")).status_code == 404


def test_many_movements_come_in_leaves_and_each_line_once(stock, keeper, at) -> None:
    for _ in range(LEAF + 5):
        stock.bring(stock.rings, 1)
    first = keeper.get(at("item", "rings"))
    moves = first.context["moves"]
    assert len(moves.lines) == LEAF
    rest = keeper.get(at("item", "rings"), {"before": moves.before}).context["moves"]
    assert rest.before is None
    assert len({line.pk for line in (*moves.lines, *rest.lines)}) == LEAF + 6


@pytest.mark.parametrize("times", [1, 2])
def test_the_page_takes_as_many_queries_for_a_long_history(stock, keeper, at, times) -> None:
    for _ in range(30 * times):
        stock.bring(stock.rings, 1)
    with CaptureQueriesContext(connection) as made:
        keeper.get(at("item", "rings"))
    assert len(made) <= 14


@pytest.fixture
def act(stock, keeper, at):
    """Does something with rings and answers with the page."""

    def post(**fields: object):
        spot = Balance.objects.filter(item=stock.rings, quantity__gt=0).first()
        given = {"spot": spot.pk, "quantity": "1", "reason": "", "key": str(uuid4())} | fields
        return keeper.post(at("set_aside", "rings"), given)

    return post


def test_things_are_carried_held_and_thrown_away(stock, act) -> None:
    attic = make_place(stock.shop, name="Attic")
    act(act="move", target=attic.pk)
    assert attic.balances.get().quantity == 1
    act(act="hold", reason="rusty")
    act(act="scrap", reason="wet")
    there = on_hand_of(stock.rings)
    assert there.good + there.hold == 2


def test_held_things_are_released(stock, act) -> None:
    act(act="hold", reason="rusty", quantity="3")
    assert balance_of(stock.rings) == 0
    act(act="release", quantity="2")
    assert balance_of(stock.rings) == 2


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"act": "move"}, "Say where it is carried."),
        ({"act": "hold"}, "Say why"),
        ({"act": "release"}, "These are good already."),
        ({"act": "scrap", "reason": "wet", "quantity": "9"}, "9 wanted, 3 at Shelf"),
    ],
)
def test_what_cannot_be_done_is_said_and_nothing_moves(stock, act, fields, says) -> None:
    answer = act(**fields)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert balance_of(stock.rings) == 3


def test_an_item_of_which_there_is_none_says_so(stock, keeper, at) -> None:
    make_item(stock.shop, slug="tags", kind="small")
    assert "There is none of it" in keeper.get(at("set_aside", "tags")).content.decode()
