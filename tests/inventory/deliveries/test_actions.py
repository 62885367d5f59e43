"""What comes is booked in once and whole, or not at all; what is taken back is waited for again."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from uuid import uuid4

import pytest

from inventory.deliveries import actions
from inventory.deliveries.arrivals import Measured
from inventory.deliveries.expected import lines_of
from inventory.deliveries.models import Delivery, Order, OrderLine, Received
from inventory.ledger import actions as ledger
from inventory.ledger.models import Entry, GoodsIn
from inventory.ledger.queries import check
from inventory.measures.lengths import feet
from tests.factories import make_item, make_place
from tests.inventory.deliveries.conftest import Door
from tests.inventory.winter import AT


def left(door: Door) -> list[Decimal]:
    return [row.left for row in lines_of(door.order)]


def test_every_line_is_an_entry_of_its_own_in_the_book(door: Door) -> None:
    delivery = door.receive(door.tubes(), door.line(door.stock.rings, 3), paper="note 12")
    entries = [row.entry for row in delivery.received.all()]
    assert [(each.kind, each.paper) for each in entries] == [("goods_in", "note 12")] * 2
    assert door.there(door.stock.tube) == (4, 0)
    assert door.there(door.stock.rings) == (3, 0)
    assert check(door.stock.shop) == ()


def test_things_go_to_their_home_or_where_somebody_says(door: Door) -> None:
    loft = make_place(door.stock.shop, name="Loft")
    delivery = door.receive(door.tubes(), door.line(door.stock.straw, 1, place=loft))
    places = [row.entry.lines.get(place__isnull=False).place for row in delivery.received.all()]
    assert places == [door.stock.tube.home, loft]


def test_the_same_key_books_in_once(door: Door) -> None:
    key = uuid4()
    first, again = (door.receive(door.tubes(), client_key=key) for _ in range(2))
    assert first == again
    assert door.there(door.stock.tube) == (4, 0)
    assert (Delivery.objects.count(), Entry.objects.count()) == (1, 1)


def test_one_bad_line_leaves_nothing_of_the_delivery(door: Door) -> None:
    with pytest.raises(actions.LineRefused, match="not held by length") as refused:
        door.receive(door.tubes(), door.line(door.stock.straw, 1, feet(3)))
    assert refused.value.place == 1
    assert (Delivery.objects.count(), Entry.objects.count(), Received.objects.count()) == (0, 0, 0)


def test_a_delivery_of_nothing_is_refused(door: Door) -> None:
    with pytest.raises(actions.NothingCame):
        door.receive()
    assert not Delivery.objects.exists()


def test_without_a_source_a_line_is_refused(door: Door) -> None:
    with pytest.raises(actions.LineRefused, match="who gave it"):
        door.receive(door.tubes(), source="  ")


def test_another_shops_item_is_refused(door: Door, other_shop) -> None:
    with pytest.raises(actions.LineRefused, match="another shop"):
        door.receive(door.line(make_item(other_shop), 1))


def test_what_was_measured_and_judged_is_kept(door: Door) -> None:
    measured = Measured(wall_um=2_100, outside_um=44_450, finish="galvanised")
    judged = [{"part": "Post", "says": "fits"}]
    row = door.receive(door.tubes(measured=measured, judged=judged)).received.get()
    assert (row.wall_um, row.outside_um, row.wire_um) == (2_100, 44_450, None)
    assert (row.finish, row.judged) == ("galvanised", judged)


def test_what_is_set_aside_comes_in_and_is_held_with_the_reason(door: Door) -> None:
    row = door.receive(door.tubes(hold_because="wall too thick")).received.get()
    assert door.there(door.stock.tube) == (0, 4)
    assert (row.entry.kind, row.hold_entry.kind) == ("goods_in", "hold")
    assert row.hold_entry.reason == "wall too thick"


def test_a_gift_keeps_its_worth_and_what_that_rests_on(door: Door) -> None:
    door.receive(
        door.tubes(value=Decimal(80)), is_donated=True, value_basis="a shop's price",
    )  # fmt: skip
    told = GoodsIn.objects.get()
    assert (told.is_donated, told.value, told.value_basis) == (True, 80, "a shop's price")


def test_without_a_bill_an_ordered_line_costs_what_was_agreed(door: Door) -> None:
    door.receive(door.tubes(4), order=door.order)
    told = GoodsIn.objects.get()
    assert (told.value, told.value_basis) == (Decimal("120.40"), "price on order 7")


def test_a_part_delivery_leaves_the_rest_outstanding(door: Door) -> None:
    door.receive(door.tubes(4), order=door.order)
    assert left(door) == [6, 2]
    door.receive(door.tubes(6), door.line(door.stock.rings, 2), order=door.order)
    assert left(door) == [0, 0]


def test_more_than_was_ordered_is_taken_in_and_told(door: Door) -> None:
    door.receive(door.tubes(12), order=door.order)
    first = lines_of(door.order)[0]
    assert (first.received, first.left, first.too_many) == (12, 0, 2)


def test_what_was_not_ordered_comes_in_beside_the_order(door: Door) -> None:
    delivery = door.receive(door.line(door.stock.straw, 1), order=door.order)
    assert delivery.received.get().order_line is None
    assert left(door) == [10, 2]


def test_another_length_fulfils_a_line_when_somebody_says_so(door: Door) -> None:
    line = door.order.lines.get(item=door.stock.tube)
    door.receive(door.line(door.stock.tube, 3, feet(24), order_line=line), order=door.order)
    assert left(door)[0] == 7


def test_a_line_of_another_order_is_refused(door: Door) -> None:
    other = Order.objects.create(shop=door.stock.shop, number=8, supplier="Else")
    line = OrderLine.objects.create(order=other, item=door.stock.tube, quantity=1)
    with pytest.raises(actions.NotOnThatOrder):
        door.receive(door.tubes(order_line=line), order=door.order)
    with pytest.raises(actions.NotOnThatOrder, match="which order"):
        door.receive(door.tubes(order_line=line))


@pytest.mark.parametrize("state", [Order.State.DRAFT, Order.State.CLOSED, Order.State.CANCELLED])
def test_nothing_comes_for_an_order_that_is_not_on_its_way(door: Door, state: str) -> None:
    Order.objects.filter(pk=door.order.pk).update(state=state, ended_why="too late")
    with pytest.raises(actions.OrderNotSent, match="order"):
        door.receive(door.tubes(), order=door.order)
    assert not Entry.objects.exists()


def test_taking_a_line_back_opens_the_order_again(door: Door) -> None:
    delivery = door.receive(door.tubes(10), door.line(door.stock.rings, 2), order=door.order)
    actions.take_back(delivery.received.all()[0], reason="wrong tube", by=None, at=AT)
    assert left(door) == [10, 0]
    assert door.there(door.stock.tube) == (0, 0)


def test_the_books_own_correction_opens_the_order_as_well(door: Door) -> None:
    row = door.receive(door.tubes(10), order=door.order).received.get()
    ledger.correct(row.entry, reason="counted wrong", by=None, at=AT)
    assert left(door)[0] == 10


def test_what_was_set_aside_is_taken_back_too(door: Door) -> None:
    row = door.receive(door.tubes(hold_because="too thick")).received.get()
    actions.take_back(row, reason="went back with the truck", by=None, at=AT)
    assert door.there(door.stock.tube) == (0, 0)
    assert check(door.stock.shop) == ()


def test_what_was_set_aside_and_released_is_taken_back_too(door: Door) -> None:
    row = door.receive(door.tubes(hold_because="too thick")).received.get()
    ledger.release(
        shop=door.stock.shop, item=door.stock.tube, quantity=Decimal(4), length_um=feet(20),
        place=door.stock.tube.home, by=None, at=AT,
    )  # fmt: skip
    actions.take_back(row, reason="went back after all", by=None, at=AT)
    assert door.there(door.stock.tube) == (0, 0)


def test_what_was_used_since_is_not_taken_back(door: Door) -> None:
    row = door.receive(door.tubes(1)).received.get()
    ledger.scrap(
        shop=door.stock.shop, item=door.stock.tube, quantity=Decimal(1), length_um=feet(20),
        place=door.stock.tube.home, reason="bent", by=None, at=AT,
    )  # fmt: skip
    with pytest.raises(actions.NotTakenBack):
        actions.take_back(row, reason="late thought", by=None, at=AT)


@pytest.mark.parametrize("reason", ["", "again"])
def test_taking_back_needs_a_reason_and_is_done_once(door: Door, reason: str) -> None:
    row = door.receive(door.tubes()).received.get()
    if reason:
        actions.take_back(row, reason="wrong", by=None, at=AT)
    with pytest.raises(actions.NotTakenBack):
        actions.take_back(row, reason=reason, by=None, at=AT)


def test_a_letter_is_sent_on_a_day_after_the_gift(door: Door) -> None:
    delivery = door.receive(door.tubes(), is_donated=True, letter_due_on=date(2026, 1, 28))
    with pytest.raises(actions.DeliveryRefused, match="before the gift"):
        actions.send_letter(delivery=delivery, on=AT.date() - timedelta(days=1))
    actions.send_letter(delivery=delivery, on=date(2026, 1, 20))
    assert Delivery.objects.get().letter_sent_on == date(2026, 1, 20)


def test_only_a_coated_delivery_can_have_its_coating_gone(door: Door) -> None:
    row = door.receive(door.tubes(measured=Measured(finish="bare"))).received.get()
    with pytest.raises(actions.DeliveryRefused, match="galvanised or painted"):
        actions.say_coating_is_gone(received=row, by=None, at=AT)
