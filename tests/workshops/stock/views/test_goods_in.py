"""Booking in a truck: little to type, nothing lost, nothing doubled, nothing that does not fit."""

from __future__ import annotations

import html
from datetime import date
from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest

from inventory.deliveries.models import Delivery, Order, OrderLine, Received
from inventory.ledger.models import Entry
from inventory.ledger.queries import balance_of, on_hand_of, pieces_of
from inventory.measures.lengths import feet, inches
from tests.factories import make_item, make_place
from tests.inventory.winter import Stock
from workshops.club.actions import set_rule
from workshops.stock.forms.goods_in import MOST


def tube(**fields: object) -> dict[str, object]:
    return {"item": "Tube", "quantity": "4", "length": "20 ft"} | fields


def straw(**fields: object) -> dict[str, object]:
    return {"item": "Straw", "quantity": "2.5"} | fields


def sent(*rows: dict[str, object], **head: object) -> dict[str, object]:
    """What the browser sends: the head, and the fields of each row under its number."""
    usual = {"source": "Reed & Sons", "came": "bought", "key": str(uuid4()), "rows": len(rows)}
    typed = {f"r{n}-{name}": value for n, row in enumerate(rows) for name, value in row.items()}
    return usual | typed | head


def words(answer: Any) -> str:
    return html.unescape(answer.content.decode())


@pytest.fixture
def order(stock: Stock) -> Order:
    """Ten tubes and two boxes of rings on their way."""
    order = Order.objects.create(
        shop=stock.shop, number=7, supplier="Lundby", state="sent", sent_on=date(2026, 1, 2)
    )
    OrderLine.objects.create(order=order, item=stock.tube, length_um=feet(20), quantity=10)
    OrderLine.objects.create(order=order, item=stock.rings, quantity=2)
    return order


def test_a_mixed_delivery_is_booked_in_with_one_press(stock, keeper, at) -> None:
    rows = [tube(), straw(), {"item": "Rings", "quantity": "6"}, {"item": "", "quantity": ""}]
    answer = keeper.post(at("goods_in"), sent(*rows), follow=True)
    assert pieces_of(stock.tube) == [(feet(20), 6)]
    assert (balance_of(stock.straw), balance_of(stock.rings)) == (3.5, 9)
    came = "4 × Tube, 240 in, 2.5 bale Straw, 6 box Rings"
    assert f"Booked in from Reed & Sons: {came}." in words(answer)


@pytest.mark.parametrize("typed", ["tube", " TUBE ", "tub", "ube"])
def test_a_part_of_the_name_is_enough(stock, keeper, at, typed: str) -> None:
    keeper.post(at("goods_in"), sent(tube(item=typed)))
    assert pieces_of(stock.tube) == [(feet(20), 6)]


def test_a_name_of_nothing_or_of_several_is_refused_beside_its_row(stock, keeper, at) -> None:
    make_item(stock.shop, name="Tube cap")
    page = words(keeper.post(at("goods_in"), sent(straw(item="tu"), straw(item="xyz"))))
    assert "Several go by that: Tube, Tube cap. Write one of them out." in page
    assert "Nothing here is called “xyz”" in page
    assert not Delivery.objects.exists()


def test_two_items_of_one_name_are_told_apart(stock, keeper, at) -> None:
    make_item(stock.shop, name="Tube", slug="other-tube")
    page = words(keeper.get(at("goods_in")))
    assert "Tube (tube)" in page
    keeper.post(at("goods_in"), sent(tube(item="Tube (tube)")))
    assert pieces_of(stock.tube) == [(feet(20), 6)]


def test_one_bad_row_books_in_nothing_and_loses_nothing_typed(stock, keeper, at) -> None:
    given = sent(tube(quantity="37", length=""), straw(value="12"), paper="note 9")
    answer = keeper.post(at("goods_in"), given)
    page = words(answer)
    assert answer.status_code == 422
    assert "Say how long each piece of Tube is." in page
    for typed in ('value="37"', 'value="2.5"', 'value="12"', 'value="note 9"'):
        assert typed in page
    assert not Delivery.objects.exists()


@pytest.mark.parametrize(
    ("row", "says"),
    [
        (tube(length="long"), "8 ft 6 in"),
        (tube(quantity="1.5"), "counted whole"),
        (tube(quantity=""), "Say how many pieces of Tube came."),
        (tube(item=""), "Say what came"),
        (straw(length="3 ft"), "not held by length"),
        (straw(wall="0.1 in"), "This is not measured of Straw"),
        (straw(bales="3", quantity=""), "not counted in bales"),
        (tube(place="99999"), "not one of the available choices"),
    ],
)
def test_each_mistake_is_told_and_says_what_to_do(stock, keeper, at, row, says: str) -> None:
    answer = keeper.post(at("goods_in"), sent(row))
    assert answer.status_code == 422
    assert says in words(answer)


def test_nothing_at_all_is_refused(stock, keeper, at) -> None:
    answer = keeper.post(at("goods_in"), sent({"item": ""}))
    assert "Nothing is written down yet" in words(answer)


def test_pressing_twice_books_once(stock, keeper, at) -> None:
    given = sent(tube())
    for _ in range(2):
        keeper.post(at("goods_in"), given)
    assert pieces_of(stock.tube) == [(feet(20), 6)]


def test_without_scripts_more_rows_come_and_keep_what_was_typed(stock, keeper, at) -> None:
    given = sent(tube(quantity="7"), source="Ash Farm", came="given")
    answer = keeper.post(at("goods_in"), given | {"more": "1"})
    page = words(answer)
    assert answer.status_code == 200
    assert 'name="r3-item"' in page
    assert 'name="r4-item"' not in page
    for typed in ('value="7"', 'value="Ash Farm"', 'value="20 ft"', given["key"]):
        assert typed in page
    assert "has-error" not in page
    assert not Delivery.objects.exists()


def test_an_earlier_day_is_kept_and_a_later_one_refused(stock, keeper, at) -> None:
    keeper.post(at("goods_in"), sent(tube(), on="2026-01-10"))
    entry = Entry.objects.order_by("-pk")[0]
    assert entry.at.astimezone(stock.shop.zone).isoformat() == "2026-01-10T12:00:00-06:00"
    late = keeper.post(at("goods_in"), sent(tube(), on="2026-02-10"))
    assert "has not come yet" in words(late)


def test_a_gift_keeps_worth_basis_and_grant_and_its_letter_is_due(stock, keeper, at) -> None:
    gift = sent(tube(value="80"), came="given", value_basis="a shop's price", grant="Marsh 26")
    keeper.post(at("goods_in"), gift)
    made = Delivery.objects.get()
    told = made.received.get().entry.goods_in
    assert (told.is_donated, told.value, told.value_basis) == (True, 80, "a shop's price")
    assert (made.grant, made.letter_due_on) == ("Marsh 26", date(2026, 1, 28))


def test_a_worth_without_basis_is_refused_for_a_gift(stock, keeper, at) -> None:
    answer = keeper.post(at("goods_in"), sent(tube(value="80"), came="given"))
    assert answer.status_code == 422
    assert "how the worth of the gift was set" in words(answer)


@pytest.mark.parametrize(
    ("head", "due"),
    [
        ({"came": "bought"}, None),
        ({"came": "given", "no_letter": "on"}, None),
        ({"came": "given", "letter": "2026-02-02"}, date(2026, 2, 2)),
        ({"came": "given", "on": "2026-01-10"}, date(2026, 1, 24)),
    ],
)
def test_a_letter_is_due_for_gifts_unless_none_is_wanted(stock, keeper, at, head, due) -> None:
    keeper.post(at("goods_in"), sent(tube(), **head))
    assert Delivery.objects.get().letter_due_on == due


def test_a_club_that_sends_no_letters_owes_none(stock, keeper, at) -> None:
    set_rule(
        shop=stock.shop, key="letter_days", value=None, decided_by="Committee",
        source="autumn meeting", by=None, decided_on=date(2026, 1, 1),
    )  # fmt: skip
    keeper.post(at("goods_in"), sent(tube(), came="given"))
    assert Delivery.objects.get().letter_due_on is None


def test_an_order_fills_in_what_is_still_to_come(stock, keeper, at, order) -> None:
    page = words(keeper.get(at("goods_in"), {"order": order.pk}))
    assert 'value="Lundby"' in page
    for n, (name, count) in enumerate((("Tube", "10"), ("Rings", "2"))):
        assert f'name="r{n}-item" value="{name}"' in page
        assert f'name="r{n}-quantity" value="{count}"' in page


def ordered(order: Order, *rows: dict[str, object]) -> dict[str, object]:
    lines = order.lines.values_list("pk", flat=True)
    tied = [row | {"order_line": pk} for row, pk in zip(rows, lines, strict=True)]
    return sent(*tied, order=order.pk)


def test_a_part_delivery_leaves_the_rest_on_the_order(stock, keeper, at, order) -> None:
    rows = tube(quantity="4"), {"item": "Rings", "quantity": ""}
    answer = keeper.post(at("goods_in"), ordered(order, *rows), follow=True)
    page = words(answer)
    assert "4 of 10 came" in page
    assert "6 to come" in page
    assert "0 of 2 came" in page
    again = words(keeper.get(at("goods_in"), {"order": order.pk}))
    assert 'name="r0-quantity" value="6"' in again


def test_more_than_ordered_is_booked_in_and_said(stock, keeper, at, order) -> None:
    rows = tube(quantity="12"), {"item": "Rings", "quantity": "0"}
    page = words(keeper.post(at("goods_in"), ordered(order, *rows), follow=True))
    assert "2 more Tube came than order 7 asked." in page
    assert "more than ordered" in page


def test_an_order_that_is_not_on_its_way_fills_in_nothing(stock, keeper, at, order) -> None:
    Order.objects.update(state="closed")
    for asked in (order.pk, "x", "9" * 30):
        page = words(keeper.get(at("goods_in"), {"order": asked}))
        assert 'value="Lundby"' not in page


def test_choosing_an_item_asks_only_what_it_needs(stock, keeper, at) -> None:
    htmx = {"HX-Request": "true"}
    for name, asks, not_asked in (
        ("Tube", "Wall", "Moisture"),
        ("Straw", "Moisture", "Length of each"),
        ("Rings", "Worth of all", "Finish"),
    ):
        asked = {"part": "asks", "rows": "2", "r2-item": name, "r2-length": "7 ft"}
        page = words(keeper.get(at("goods_in_row"), asked, headers=htmx))
        assert asks in page
        assert not_asked not in page
        assert "<html" not in page
        assert "7 ft" not in page


def test_the_bought_length_is_proposed(stock, keeper, at) -> None:
    page = words(keeper.get(at("goods_in"), {"item": stock.tube.pk}))
    assert 'name="r0-length" value="240 in"' in page


def test_one_more_row_comes_with_one_tap_and_is_counted(stock, keeper, at) -> None:
    page = words(keeper.get(at("goods_in_row"), {"rows": "3"}))
    assert 'name="r3-item"' in page
    assert 'name="rows" value="4" hx-swap-oob="true"' in page
    assert keeper.get(at("goods_in_row"), {"rows": str(MOST)}).status_code == 204


def test_damp_straw_is_not_taken_in_without_saying_what_happens(stock, keeper, at) -> None:
    damp = straw(moisture="26")
    answer = keeper.post(at("goods_in"), sent(damp))
    page = words(answer)
    assert answer.status_code == 422
    assert "26 % moist, the club takes it in up to 20 %" in page
    assert "book it in on hold" in page
    assert not Delivery.objects.exists()
    keeper.post(at("goods_in"), sent(damp | {"then": "hold"}))
    assert on_hand_of(stock.straw).hold == 2.5
    row = Received.objects.get()
    assert "straw watch" in row.hold_entry.reason
    assert row.judged[0]["says"] == "does_not_fit"


def test_what_does_not_fit_may_be_taken_in_as_good_by_a_decision(stock, keeper, at) -> None:
    keeper.post(at("goods_in"), sent(straw(moisture="26", then="good")))
    assert (balance_of(stock.straw), on_hand_of(stock.straw).hold) == (3.5, 0)


def test_what_was_measured_is_judged_before_anything_is_sent(stock, keeper, at) -> None:
    asked = {"part": "judged", "rows": "0", "r0-item": "Straw", "r0-moisture": "26"}
    page = words(keeper.get(at("goods_in_row"), asked))
    assert "does not fit" in page
    assert "book it in on hold" in page


def test_a_size_that_cannot_be_read_is_told_at_once(stock, keeper, at) -> None:
    asked = {"part": "judged", "rows": "0", "r0-item": "Tube", "r0-wall": "14 gauge"}
    page = words(keeper.get(at("goods_in_row"), asked))
    assert "Wall: “14 gauge” is not a length." in page


@pytest.mark.parametrize(("unit", "there"), [("kg", "36.546"), ("lb", "80.570")])
def test_bales_are_weighed_by_the_weight_that_was_set(stock, keeper, at, unit, there) -> None:
    hay = make_item(stock.shop, name="Hay", kind="fill", unit=unit, bale_weight_g=18_273)
    keeper.post(at("goods_in"), sent({"item": "Hay", "bales": "2"}))
    assert balance_of(hay) == Decimal(there)


def test_another_place_is_where_it_lies(stock, keeper, at) -> None:
    loft = make_place(stock.shop, name="Loft")
    keeper.post(at("goods_in"), sent(straw(place=loft.pk)))
    assert stock.straw.balances.get(place=loft).quantity == 2.5


def test_a_reader_may_not_book_in(stock, reader, client_of, at) -> None:
    assert client_of(reader).get(at("goods_in")).status_code == 403


def test_a_length_in_millimetres_is_read_in_a_shop_of_inches(stock, keeper, at) -> None:
    keeper.post(at("goods_in"), sent(tube(length="508 mm")))
    assert (inches(20), 4) in pieces_of(stock.tube)


def test_the_page_asks_the_database_as_often_for_many_items(
    stock, keeper, at, django_assert_num_queries
) -> None:
    keeper.get(at("goods_in"))
    for items in (0, 60):
        for n in range(items):
            make_item(stock.shop, name=f"Thing {n}", home=stock.tube.home)
        with django_assert_num_queries(8):
            keeper.get(at("goods_in"))
