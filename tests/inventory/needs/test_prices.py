"""What one costs on a day: averages, gifts apart, metal by its length."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from uuid import uuid4

import pytest

from inventory.cutting.shelving import Places, Sawn, back, sticks_out
from inventory.deliveries.actions import Arrival, receive
from inventory.ledger import actions as ledger
from inventory.ledger.costs import Cost
from inventory.ledger.models import Entry
from inventory.materials.queries import recipes_in_use
from inventory.measures.lengths import millimetres
from inventory.needs.prices import Price, prices_of
from tests.factories import make_item, make_recipe
from tests.inventory.winter import AT, Stock, make_stock

DAY = AT.date()


@pytest.fixture
def stock(shop) -> Stock:
    return make_stock(shop)


def bring(stock: Stock, item, quantity, value, days: int = 0, **rest):
    usual = {"source": "Reed & Sons", "is_donated": False, "by": None} | rest
    return ledger.goods_in(
        shop=stock.shop, item=item, quantity=Decimal(quantity), place=item.home,
        value=None if value is None else Decimal(value), at=AT + timedelta(days=days), **usual,
    )  # fmt: skip


def price(stock: Stock, item, until: date = DAY + timedelta(days=99)) -> Price:
    return prices_of(stock.shop, [item], until)[item.pk]


def test_the_price_is_as_of_a_day(stock) -> None:
    bring(stock, stock.rings, 4, 40)
    bring(stock, stock.rings, 4, 60, days=10)
    assert price(stock, stock.rings, DAY).bought == 10
    assert price(stock, stock.rings).bought == Decimal("12.5")


def test_before_anything_came_the_listed_price_stands_and_says_so(stock) -> None:
    assert price(stock, stock.straw) == Price(bought=Decimal("4.50"), is_listed=True)


def test_without_any_price_it_is_not_known(stock) -> None:
    assert not price(stock, stock.rings).is_known


def test_gifts_stand_apart_with_their_share(stock) -> None:
    bring(stock, stock.rings, 6, 60)
    bring(stock, stock.rings, 2, 10, is_donated=True, value_basis="a shop's price")
    found = price(stock, stock.rings)
    assert (found.bought, found.given, found.given_share) == (10, 5, Decimal("0.25"))


def test_the_last_average_stays_when_the_last_piece_is_used(stock) -> None:
    bring(stock, stock.rings, 1, 12)
    recipe = recipes_in_use(stock.shop)[stock.cylinder.pk]
    ledger.make(shop=stock.shop, recipe=recipe, good=20, by=None, at=AT + timedelta(days=1))
    assert price(stock, stock.rings).bought == 12
    bring(stock, stock.rings, 1, 8, days=2)
    assert price(stock, stock.rings).bought == 8


def test_metal_is_valued_by_the_metre_and_a_drop_takes_its_share_back(stock) -> None:
    """Two sticks of 6 m for 60: 5 a metre. 2 m are used, 4 m go back: at 9 for 6 m more, 10 m
    at 5 and 6 m at 1.50 are 59 for 16 m.
    """
    length, bar = millimetres(6000), long_bar(stock)
    bring(stock, bar, 2, 60, length_um=length)
    assert price(stock, bar).bought == 5
    made_from(stock, bar, millimetres(2000), 1)
    bring(stock, bar, 1, 9, days=2, length_um=length)
    assert price(stock, bar).bought == Decimal(59) / 16


def test_metal_cut_ahead_counts_once_when_it_is_cut_and_when_it_is_used(stock) -> None:
    """The same two pieces of 2 m, once sawn the night before and once from the stick."""
    ahead, straight = long_bar(stock), long_bar(stock)
    for bar in (ahead, straight):
        bring(stock, bar, 2, 60, length_um=millimetres(6000))
    cut_ahead(stock, ahead, millimetres(6000), {millimetres(2000): 2})
    for bar in (ahead, straight):
        made_from(stock, bar, millimetres(2000), 2)
        bring(stock, bar, 1, 9, days=2, length_um=millimetres(6000))
    # 8 of 12 m are left, worth 40; 6 m more for 9 make 14 m worth 49
    assert price(stock, straight).bought == Decimal(49) / 14
    assert price(stock, ahead) == price(stock, straight)


def long_bar(stock: Stock):
    return make_item(
        stock.shop, kind="metal", bought_length_um=millimetres(6000), kerf_um=0,
        keep_um=millimetres(500),
    )  # fmt: skip


def made_from(stock: Stock, bar, length_um: int, good: int) -> None:
    recipe = make_recipe(make_item(stock.shop), (bar, 1, length_um))
    ledger.make(shop=stock.shop, recipe=recipe, good=good, by=None, at=AT + timedelta(days=1))


def cut_ahead(stock: Stock, bar, stick_um: int, pieces: dict[int, int]) -> None:
    """One stick into pieces and one drop, as a ticked cut list writes it."""
    left = stick_um - sum(length * count for length, count in pieces.items())
    sawn = Sawn(stick_um, 1, pieces, left, is_kept=True)
    lines, _ = sticks_out(bar, stick_um, 1)
    lines += back(bar, sawn, Places(bar.home, bar.home))
    ledger.post(shop=stock.shop, kind=Entry.Kind.CUT, lines=lines, by=None, at=AT)


def test_a_gift_set_aside_at_the_door_waits_apart_until_it_is_released(stock) -> None:
    held_gift(stock)
    usual = {"shop": stock.shop, "item": stock.rings, "place": stock.rings.home, "by": None}
    found = price(stock, stock.rings)
    assert (found.bought, found.given_share, found.waiting) == (
        10,
        0,
        Cost(Decimal(8), Decimal(40)),
    )
    ledger.release(quantity=Decimal(2), at=AT + timedelta(days=2), **usual)
    found = price(stock, stock.rings)
    assert (found.given, found.given_share, found.waiting.quantity) == (5, Decimal("0.25"), 6)
    # as of a day on which it still waited
    assert price(stock, stock.rings, DAY + timedelta(days=1)).given_share == 0


def test_a_gift_thrown_away_from_hold_takes_nothing_of_what_was_paid_for(stock) -> None:
    held_gift(stock)
    ledger.scrap(
        shop=stock.shop, item=stock.rings, quantity=Decimal(8), place=stock.rings.home,
        condition="hold", reason="rusted through", by=None, at=AT + timedelta(days=1),
    )  # fmt: skip
    bring(stock, stock.rings, 6, 0, days=2)
    # all six that were bought are there still
    assert price(stock, stock.rings).bought == 5
    assert price(stock, stock.rings).waiting == Cost()


def held_gift(stock: Stock) -> None:
    """Six for 60 on the shelf, and eight given, worth 40, that nobody has looked at."""
    bring(stock, stock.rings, 6, 60)
    gift = Arrival(
        item=stock.rings, quantity=Decimal(8), value=Decimal(40), hold_because="not looked at"
    )
    receive(
        shop=stock.shop, source="Reed & Sons", is_donated=True, lines=[gift], by=None, at=AT,
        client_key=uuid4(),
    )  # fmt: skip


def test_what_is_sent_back_takes_its_share_of_the_cost(stock) -> None:
    bring(stock, stock.rings, 4, 20)
    ledger.return_goods(
        shop=stock.shop, item=stock.rings, quantity=Decimal(2), place=stock.rings.home,
        reason="too wide", by=None, at=AT + timedelta(days=1),
    )  # fmt: skip
    bring(stock, stock.rings, 2, 30, days=2)
    assert price(stock, stock.rings).bought == 10


def test_a_delivery_taken_back_never_counted(stock) -> None:
    entry = bring(stock, stock.rings, 4, 400)
    ledger.correct(entry, reason="another shop's", by=None, at=AT)
    bring(stock, stock.rings, 2, 30)
    assert price(stock, stock.rings).bought == 15


def test_goods_without_a_value_do_not_make_the_rest_cheaper(stock) -> None:
    bring(stock, stock.rings, 4, 40)
    bring(stock, stock.rings, 4, None, days=1)
    assert price(stock, stock.rings).bought == 10


def test_it_takes_two_queries_for_any_number(stock, django_assert_num_queries) -> None:
    with django_assert_num_queries(2):
        prices_of(stock.shop, [stock.rings, stock.straw, stock.tube], DAY)
