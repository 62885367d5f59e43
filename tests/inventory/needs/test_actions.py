"""Needs from the shop's own rows: what is possible, what runs out, what to buy by when."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from inventory.ledger import actions as ledger
from inventory.measures.lengths import feet
from inventory.needs.actions import work_out
from inventory.needs.engine.problem import NeedsProblem
from inventory.needs.queries import NeedsRefused, latest_needs, needs_in, needs_of
from inventory.places.models import Shop
from tests.factories import make_item, make_recipe
from tests.inventory.winter import AT, Stock, make_stock

TODAY = date(2026, 1, 14)


@pytest.fixture
def stock(shop: Shop) -> Stock:
    """Tube for two sets (84 + 40 in and kerfs in each 20 ft), straw for four, rings for 20."""
    stock = make_stock(shop)
    stock.bring(stock.tube, 2, feet(20))
    stock.bring(stock.straw, 1)
    stock.bring(stock.rings, 3)
    return stock


def needs(stock: Stock, sets: int, **rest):
    run = work_out(shop=stock.shop, wanted={stock.complete.pk: sets}, today=TODAY, by=None, **rest)
    return needs_in(run)


def test_complete_sets_possible_now_are_counted_through_every_recipe(stock: Stock) -> None:
    answer = needs(stock, 10)
    # 20 ft give one post and heads for two, or two posts: three sets from two sticks
    assert answer.mix.sets == 3
    assert answer.mix.stopped_by == (stock.tube,)


def test_half_made_parts_on_the_rack_count(stock: Stock) -> None:
    for part in (stock.post, stock.head):
        ledger.count(
            shop=stock.shop, place=part.home, by=None, at=AT,
            counted=[ledger.Counted(part, 0, "good", Decimal(5))],
        )  # fmt: skip
    answer = needs(stock, 10)
    assert answer.mix.sets == 4
    assert answer.mix.stopped_by == (stock.straw,)


def test_what_runs_out_counts_from_the_finished_sets_on(stock: Stock) -> None:
    ledger.count(
        shop=stock.shop, place=stock.complete.home, by=None, at=AT,
        counted=[ledger.Counted(stock.complete, 0, "good", Decimal(4))],
    )  # fmt: skip
    answer = needs(stock, 10)
    assert (answer.mix.sets, answer.mix.finished, answer.mix.more) == (7, 4, 3)
    assert answer.stops_first is not None
    assert answer.stops_first.after_sets == 3


def test_what_is_on_hold_does_not_count(stock: Stock) -> None:
    ledger.hold(
        shop=stock.shop, item=stock.straw, quantity=Decimal(1), place=stock.straw.home,
        reason="damp", by=None, at=AT,
    )  # fmt: skip
    assert needs(stock, 10).mix.sets == 0


def test_the_buy_list_is_in_the_items_own_unit_and_whole_packs(stock: Stock) -> None:
    lines = {line.item: line for line in needs(stock, 10).buy}
    straw = lines[stock.straw]
    # ten sets take 2.5 bales; one is here
    assert (straw.short, straw.quantity, straw.unit) == (Decimal("1.5"), 2, "bale")
    assert straw.price == Decimal("9.00")
    assert straw.is_one_chance
    assert lines[stock.tube].quantity == 5
    assert lines[stock.tube].unit == "stick"


def test_order_by_dates_come_from_the_nights_and_the_lead_time(stock: Stock) -> None:
    nights = [(TODAY + timedelta(days=7 * week), 2) for week in range(1, 6)]
    answer = needs(stock, 10, nights=nights)
    tube = next(line for line in answer.buy if line.item == stock.tube)
    # two sets a night: the third and fourth are wanted on the second night
    assert tube.needed_on == TODAY + timedelta(days=14)
    assert tube.order_by == TODAY + timedelta(days=14 - stock.tube.lead_days)
    assert answer.stops_first.on_night == TODAY + timedelta(days=14)


def test_sentences_name_items_and_units_as_the_shop_does(stock: Stock) -> None:
    said = needs(stock, 10).sentences
    assert said[0].startswith("3 of the 10 wanted sets are possible now")
    assert "Tube runs out first, after 3 more sets" in said[1]
    assert any(line.startswith("Buy 2 × Straw (bale)") for line in said)


def test_a_run_is_kept_and_can_be_repeated(stock: Stock) -> None:
    answer = needs(stock, 4)
    assert NeedsProblem.from_json(answer.run.problem).today == "2026-01-14"
    assert latest_needs(stock.shop).run == answer.run


def test_the_last_answer_is_the_one_that_is_told(stock: Stock) -> None:
    needs(stock, 4)
    later = needs(stock, 6)
    assert latest_needs(stock.shop).run == later.run


def test_a_shop_that_never_asked_has_no_answer(shop: Shop) -> None:
    assert latest_needs(shop) is None


def test_nothing_wanted_says_so(stock: Stock) -> None:
    answer = needs_of(stock.shop, {}, today=TODAY)
    assert answer.sentences[0] == "No sets are wanted yet."
    assert answer.mix.sets == 0


def test_two_items_of_one_name_are_kept_apart(stock: Stock) -> None:
    other = make_item(stock.shop, name="Rings", slug="rings-small", unit="box")
    low = make_item(stock.shop, name="Low set", kind="set")
    make_recipe(low, (other, 1, 0))
    answer = needs_of(stock.shop, {low.pk: 2}, today=TODAY)
    assert [line.item for line in answer.buy] == [other]


def test_a_set_of_another_shop_is_refused(stock: Stock, other_shop: Shop) -> None:
    with pytest.raises(NeedsRefused, match="no item of this shop"):
        needs_of(other_shop, {stock.complete.pk: 1}, today=TODAY)


def test_recipes_in_a_circle_are_refused_in_a_sentence(stock: Stock) -> None:
    make_recipe(stock.straw, (stock.complete, 1, 0))
    with pytest.raises(NeedsRefused, match="needed to make itself"):
        needs_of(stock.shop, {stock.complete.pk: 1}, today=TODAY)
