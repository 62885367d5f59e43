"""What came, what was said of it, taking it back, and the letters."""

from __future__ import annotations

import html
import re
from datetime import date
from typing import Any
from uuid import uuid4

import pytest

from inventory.deliveries.models import Delivery, Order, Received
from inventory.ledger.queries import check, on_hand_of
from tests.factories import make_member
from tests.inventory.deliveries.conftest import Door
from workshops.access.models import Membership


@pytest.fixture
def door(stock) -> Door:
    """Ways to bring things in through the actions."""
    return Door(stock, Order(shop=stock.shop))


def words(answer: Any) -> str:
    """What the page says, without its tags."""
    return html.unescape(re.sub(r"(<[^>]+>|\s)+", " ", answer.content.decode()))


def test_a_new_shop_is_told_what_to_do_first(stock, keeper, at) -> None:
    assert "Nothing was booked in at the door yet" in words(keeper.get(at("deliveries")))
    assert "Everybody who gave is thanked" in words(keeper.get(at("letters")))


def test_the_list_shows_what_came_the_latest_first(stock, keeper, at, door) -> None:
    door.receive(door.tubes(), source="Ash Farm", is_donated=True)
    door.receive(door.line(stock.straw, 3), source="Birch Barn")
    page = words(keeper.get(at("deliveries")))
    assert page.index("Birch Barn") < page.index("Ash Farm")
    assert "3 bale Straw" in page
    assert "4 × Tube, 240 in" in page


def test_a_delivery_shows_measures_judgement_and_where_it_went(stock, keeper, at, door) -> None:
    judged = [{"part": "Post", "says": "does_not_fit", "reason": "too thick", "sheets": "T-1"}]
    line = door.tubes(judged=judged, hold_because="Post: too thick")
    made = door.receive(line, source="Ash Farm", is_donated=True)
    Received.objects.update(wall_um=3_048, finish="painted")
    page = words(raw := keeper.get(at("delivery", made.pk)))
    for told in ("wall 0.120 in, painted", "too thick (T-1)", "does not fit", "came on hold"):
        assert told in page
    assert at("entry", made.received.get().entry_id) in raw.content.decode()


def test_a_line_is_taken_back_with_a_reason_from_its_delivery(stock, keeper, at, door) -> None:
    made = door.receive(door.tubes(hold_because="bent"), door.line(stock.straw, 3))
    first, second = made.received.all()
    for row in (first, second):
        address = at("take_back_received", made.pk, row.pk)
        assert keeper.post(address, {"reason": ""}).status_code == 422
        assert keeper.post(address, {"reason": "wrong", "key": str(uuid4())}).status_code == 302
    assert on_hand_of(stock.tube).hold == 0
    assert check(stock.shop) == ()
    assert words(keeper.get(at("delivery", made.pk))).count("✕ taken back") == 2


def test_what_was_used_is_not_taken_back_and_the_page_says_why(stock, keeper, at, door) -> None:
    made = door.receive(door.line(stock.straw, 3, place=stock.tube.home))
    stock.straw.balances.filter(place=stock.tube.home).update(quantity=1)
    row = made.received.get()
    answer = keeper.post(
        at("take_back_received", made.pk, row.pk),
        {"reason": "late", "key": str(uuid4())},
    )
    assert answer.status_code == 422
    assert "3 wanted, 1 at Yard" in words(answer)


def test_coated_stock_is_told_until_somebody_finds_none_left(stock, keeper, at, door) -> None:
    made = door.receive(door.tubes())
    Received.objects.update(finish="galvanised")
    row = made.received.get()
    assert "the weld card warns" in words(keeper.get(at("delivery", made.pk)))
    assert "galvanised" in words(keeper.get(at("item", stock.tube.slug)))
    answer = keeper.post(at("coating_gone", made.pk, row.pk), follow=True)
    assert "none of these is left" in words(answer)
    assert "galvanised" not in words(keeper.get(at("item", stock.tube.slug)))


def test_bare_stock_has_no_coating_to_be_gone(stock, keeper, at, door) -> None:
    made = door.receive(door.tubes())
    answer = keeper.post(at("coating_gone", made.pk, made.received.get().pk), follow=True)
    assert "did not come galvanised or painted" in words(answer)


def test_a_letter_is_due_late_and_then_sent(stock, keeper, at, door) -> None:
    made = door.receive(
        door.tubes(), source="Ash Farm", is_donated=True, letter_due_on=date(2026, 1, 13)
    )
    assert "1 late" in words(keeper.get(at("deliveries")))
    due = words(keeper.get(at("letters")))
    assert "Ash Farm" in due
    assert "late" in due
    page = words(keeper.post(at("letter_sent", made.pk), follow=True))
    assert "Ash Farm is thanked." in page
    assert "Gone already" in page
    assert Delivery.objects.get().letter_sent_on == date(2026, 1, 14)


def test_a_reader_sees_and_changes_nothing(stock, at, door, client_of) -> None:
    made = door.receive(door.tubes())
    reader = client_of(make_member(stock.shop, "rolf", Membership.Role.READER))
    page = words(reader.get(at("delivery", made.pk)))
    assert "Take it back" not in page
    assert reader.post(at("letter_sent", made.pk)).status_code == 403


def test_a_row_of_another_delivery_is_not_found(stock, keeper, at, door) -> None:
    one, two = door.receive(door.tubes()), door.receive(door.tubes())
    assert keeper.post(at("coating_gone", one.pk, two.received.get().pk)).status_code == 404


def test_the_list_asks_as_often_for_ten_deliveries_as_for_one(
    stock, keeper, at, door, django_assert_num_queries
) -> None:
    for more in (1, 9):
        for _ in range(more):
            door.receive(door.tubes(), door.line(stock.straw, 1))
        keeper.get(at("deliveries"))
        with django_assert_num_queries(7):
            keeper.get(at("deliveries"))
