"""The cut-off: each thing that is still open is named, with what to do; nothing else is."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from inventory.deliveries.models import Order
from inventory.ledger import actions as ledger
from tests.factories import TODAY, make_night, make_operation, make_place, make_station
from workshops.nights.models import Night, Tally
from workshops.stock.cut_off import cut_off_of


def told(shop, counted=()) -> str:
    return " / ".join(notice.says for notice in cut_off_of(shop, timezone.now(), counted))


def tallied(shop, night: Night) -> Tally:
    operation = make_operation(make_station(shop))
    return Tally.objects.create(shop=shop, night=night, operation=operation, good=1)


@pytest.mark.django_db
def test_an_empty_shop_has_nothing_open(shop, clock) -> None:
    assert cut_off_of(shop, timezone.now()) == []


def test_a_night_without_a_tally_is_named_and_leads_to_it(shop, clock) -> None:
    make_night(shop)
    (notice,) = cut_off_of(shop, timezone.now())
    assert notice.says == "The night of Wednesday 14 January has no tally."
    assert notice.url == "/teal-point/nights/2026-01-14/tally/"
    assert "Entered later, it still counts as before." in notice.do


def test_a_tally_that_was_undone_is_none(shop, clock) -> None:
    night = make_night(shop)
    first = tallied(shop, night)
    Tally.objects.create(shop=shop, night=night, operation=first.operation, good=1, undoes=first)
    assert "has no tally" in told(shop)


def test_a_night_tallied_and_not_closed_is_named_until_it_is_closed(shop, clock) -> None:
    night = make_night(shop)
    tallied(shop, night)
    assert told(shop) == "The night of Wednesday 14 January is tallied and not closed."
    Night.objects.update(status=Night.Status.CLOSED)
    assert told(shop) == ""


@pytest.mark.parametrize(
    ("day", "status"),
    [
        (TODAY + timedelta(days=1), "planned"),
        (TODAY - timedelta(days=22), "planned"),
        (TODAY, "cancelled"),
    ],
)
def test_nights_to_come_long_past_or_cancelled_are_not(shop, clock, day: date, status) -> None:
    make_night(shop, date=day, status=status)
    assert told(shop) == ""


@pytest.mark.parametrize(("due", "is_told"), [(TODAY, True), (TODAY + timedelta(days=1), False)])
def test_an_order_that_may_stand_at_the_door_is_named(stock, due: date, is_told: bool) -> None:
    order = Order.objects.create(
        shop=stock.shop, number=4, supplier="Reed & Sons", state=Order.State.SENT, sent_on=TODAY,
        expected_on=due,
    )  # fmt: skip
    order.lines.create(item=stock.straw, quantity=10)
    says = "Order 4 to Reed & Sons is under way, expected 14 January."
    assert (says in told(stock.shop)) is is_told


def test_half_made_parts_away_from_their_rack_are_named(stock) -> None:
    stock.bring(stock.head, 4)
    assert "half-made" not in told(stock.shop)
    ledger.move(
        shop=stock.shop, item=stock.head, quantity=Decimal(1), source=stock.head.home,
        target=make_place(stock.shop), by=None, at=timezone.now(),
    )  # fmt: skip
    assert "1 kind of half-made part lies elsewhere" in told(stock.shop)


def test_places_with_stock_that_are_not_counted_are_named(stock) -> None:
    make_place(stock.shop, name="Empty loft")
    assert "lies there: Shelf, Yard." in told(stock.shop)
    everything = {stock.straw.home_id, stock.tube.home_id}
    assert told(stock.shop, everything) == "Is a truck or a trailer loaded?"


def test_it_takes_five_queries_at_most_whatever_is_open(stock, django_assert_max_num_queries):
    for days in range(10):
        make_night(stock.shop, date=TODAY - timedelta(days=days))
    with django_assert_max_num_queries(5):
        assert len(cut_off_of(stock.shop, timezone.now())) == 11
