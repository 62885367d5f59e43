"""Orders: written, sent, ended, and everything that is refused on the way."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from inventory.deliveries import ordering
from inventory.deliveries.models import Order
from inventory.deliveries.ordering import Asked
from inventory.measures.lengths import feet
from tests.factories import make_item
from tests.inventory.deliveries.orders import AT, come, make_order
from tests.inventory.winter import Stock, make_stock

TODAY = date(2026, 1, 14)
State = Order.State


@pytest.fixture
def stock(shop) -> Stock:
    return make_stock(shop)


@pytest.fixture
def order(stock: Stock) -> Order:
    return make_order(stock)


def send(order: Order, **rest) -> Order:
    return ordering.send(order=order, on=TODAY, by=None, **rest)


def test_orders_are_numbered_on_within_the_shop(stock, order) -> None:
    other = ordering.draft(shop=stock.shop, supplier="Other", by=None, at=AT)
    assert (order.number, other.number) == (1, 2)


def test_a_second_draft_to_one_supplier_leads_to_the_first(stock, order) -> None:
    with pytest.raises(ordering.DraftStands, match="being written already") as refused:
        ordering.draft(shop=stock.shop, supplier="Reed & Sons", by=None, at=AT)
    assert refused.value.order == order


def test_metal_is_ordered_as_long_as_it_is_bought(stock, order) -> None:
    assert order.lines.get(item=stock.tube).length_um == feet(20)


def test_the_same_item_again_changes_its_line(stock, order) -> None:
    ordering.put_line(order=order, asked=Asked(stock.tube, Decimal(15)), by=None)
    assert [line.quantity for line in order.lines.filter(item=stock.tube)] == [15]


def test_another_length_is_another_line(stock, order) -> None:
    ordering.put_line(order=order, asked=Asked(stock.tube, Decimal(1), feet(24)), by=None)
    assert order.lines.filter(item=stock.tube).count() == 2


def test_a_line_is_taken_off_a_draft_and_again_without_trouble(stock, order) -> None:
    line = order.lines.get(item=stock.straw)
    for _ in range(2):
        ordering.take_off_line(order=order, line=line.pk, by=None)
    assert order.lines.count() == 1


@pytest.mark.parametrize(
    ("quantity", "says"), [("0", "more than nothing"), ("-2", "more than"), ("1.5", "whole sticks")]
)
def test_a_line_of_nothing_or_of_half_a_stick_is_refused(stock, order, quantity, says) -> None:
    with pytest.raises(ordering.OrderRefused, match=says):
        ordering.put_line(order=order, asked=Asked(stock.tube, Decimal(quantity)), by=None)


def test_an_item_of_another_shop_is_refused(order, other_shop) -> None:
    asked = Asked(make_item(other_shop), Decimal(1))
    with pytest.raises(ordering.OrderRefused, match="no item of this shop"):
        ordering.put_line(order=order, asked=asked, by=None)


def test_an_order_without_a_supplier_is_refused(shop) -> None:
    with pytest.raises(ordering.OrderRefused, match="who the order goes to"):
        ordering.draft(shop=shop, supplier="  ", by=None, at=AT)


def test_sending_says_who_when_and_for_when(order, storekeeper) -> None:
    sent = ordering.send(order=order, on=TODAY, by=storekeeper, expected_on=date(2026, 1, 24))
    assert (sent.state, sent.sent_on, sent.sent_by) == (State.SENT, TODAY, storekeeper)
    assert sent.expected_on == date(2026, 1, 24)


def test_an_order_of_nothing_is_not_sent(stock) -> None:
    empty = ordering.draft(shop=stock.shop, supplier="Other", by=None, at=AT)
    with pytest.raises(ordering.NothingOrdered, match="no line yet"):
        send(empty)


def test_an_order_is_not_expected_before_it_is_sent(order) -> None:
    with pytest.raises(ordering.OrderRefused, match="before the day it was sent"):
        send(order, expected_on=date(2026, 1, 13))


def test_nothing_changes_the_lines_of_a_sent_order(stock, order) -> None:
    send(order)
    line = order.lines.get(item=stock.straw)
    with pytest.raises(ordering.NotADraft, match="lines stand"):
        ordering.put_line(order=order, asked=Asked(stock.straw, Decimal(9)), by=None)
    with pytest.raises(ordering.NotADraft):
        ordering.take_off_line(order=order, line=line.pk, by=None)
    with pytest.raises(ordering.NotADraft):
        ordering.describe(order=order, wanted_on=None, deliver_to="", note="", by=None)
    with pytest.raises(ordering.NotADraft):
        send(order)


def test_a_new_day_may_be_given_for_what_is_on_its_way(order) -> None:
    send(order)
    row = ordering.expect(order=order, on=date(2026, 2, 2), by=None)
    assert row.expected_on == date(2026, 2, 2)


def test_nothing_is_expected_of_a_draft(order) -> None:
    with pytest.raises(ordering.NotSent, match="not on its way"):
        ordering.expect(order=order, on=TODAY, by=None)


def test_an_order_closes_without_a_word_when_all_of_it_came(order, storekeeper) -> None:
    send(order)
    for line in order.lines.all():
        come(line, line.quantity)
    done = ordering.close(order=order, by=storekeeper, at=AT)
    assert (done.state, done.ended_by, done.ended_why) == (State.CLOSED, storekeeper, "")


def test_an_order_of_which_part_is_missing_closes_for_a_reason(order) -> None:
    send(order)
    with pytest.raises(ordering.SayWhy, match="Not all of"):
        ordering.close(order=order, by=None, at=AT)
    done = ordering.close(order=order, by=None, at=AT, why="sold out")
    assert (done.state, done.ended_why) == (State.CLOSED, "sold out")


def test_a_draft_is_called_off_for_a_reason_and_only_once(order) -> None:
    with pytest.raises(ordering.SayWhy):
        ordering.cancel(order=order, by=None, at=AT, why=" ")
    assert ordering.cancel(order=order, by=None, at=AT, why="given").state == State.CANCELLED
    with pytest.raises(ordering.OrderRefused, match="already"):
        ordering.cancel(order=order, by=None, at=AT, why="given")


def test_an_order_of_which_part_came_is_not_called_off(stock, order) -> None:
    send(order)
    come(order.lines.get(item=stock.tube), 2)
    with pytest.raises(ordering.PartCame, match="Close it instead"):
        ordering.cancel(order=order, by=None, at=AT, why="too dear")


def test_an_order_read_before_it_was_sent_by_another_is_refused(order) -> None:
    """Two people have one draft open; the second works on what the first has sent."""
    stale = Order.objects.get(pk=order.pk)
    send(order)
    with pytest.raises(ordering.NotADraft):
        send(stale)
