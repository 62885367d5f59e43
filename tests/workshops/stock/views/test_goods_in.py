"""Booking in a delivery: little to type, nothing lost, nothing doubled."""

from __future__ import annotations

from uuid import uuid4

from inventory.ledger.models import Entry
from inventory.ledger.queries import balance_of, pieces_of
from inventory.measures.lengths import feet, inches
from tests.inventory.winter import Stock


def delivery(stock: Stock, **fields: object) -> dict[str, object]:
    usual = {"item": stock.tube.pk, "quantity": "4", "length": "20 ft", "came": "bought"}
    return usual | {"source": "Reed & Sons", "key": str(uuid4())} | fields


def test_sticks_are_booked_in_where_they_are_kept(stock, keeper, at) -> None:
    answer = keeper.post(at("goods_in"), delivery(stock), follow=True)
    assert pieces_of(stock.tube) == [(feet(20), 6)]
    assert "Booked in: 4 × Tube, 240 in, at Yard." in answer.content.decode()


def test_the_next_thing_keeps_the_source_and_whether_it_was_given(stock, keeper, at) -> None:
    answer = keeper.post(at("goods_in"), delivery(stock, came="given"), follow=True)
    page = answer.content.decode()
    assert 'value="Reed &amp; Sons"' in page
    assert '<option value="given" selected>' in page


def test_a_gift_keeps_its_worth_and_its_basis(stock, keeper, at) -> None:
    keeper.post(
        at("goods_in"), delivery(stock, came="given", value="80", value_basis="a shop's price")
    )
    told = Entry.objects.order_by("-pk")[0].goods_in
    assert (told.is_donated, told.value, told.value_basis) == (True, 80, "a shop's price")


def test_a_worth_without_basis_is_refused_for_a_gift(stock, keeper, at) -> None:
    answer = keeper.post(at("goods_in"), delivery(stock, came="given", value="80"))
    assert answer.status_code == 422
    assert "how the worth of the gift was set" in answer.content.decode()


def test_metal_without_a_length_is_refused_and_nothing_typed_is_lost(stock, keeper, at) -> None:
    answer = keeper.post(at("goods_in"), delivery(stock, length="", quantity="37"))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Say how long each piece of Tube is." in page
    assert 'value="37"' in page
    assert pieces_of(stock.tube) == [(feet(20), 2)]


def test_a_length_nobody_can_read_is_refused_with_an_example(stock, keeper, at) -> None:
    page = keeper.post(at("goods_in"), delivery(stock, length="long")).content.decode()
    assert "8 ft 6 in" in page


def test_straw_has_no_length(stock, keeper, at) -> None:
    keeper.post(at("goods_in"), delivery(stock, item=stock.straw.pk, length="", quantity="2.5"))
    assert balance_of(stock.straw) == 3.5
    answer = keeper.post(at("goods_in"), delivery(stock, item=stock.straw.pk))
    assert "not held by length" in answer.content.decode()


def test_half_a_stick_is_refused(stock, keeper, at) -> None:
    answer = keeper.post(at("goods_in"), delivery(stock, quantity="1.5"))
    assert "counted whole" in answer.content.decode()


def test_pressing_twice_books_once(stock, keeper, at) -> None:
    given = delivery(stock)
    for _ in range(2):
        keeper.post(at("goods_in"), given)
    assert pieces_of(stock.tube) == [(feet(20), 6)]


def test_an_earlier_day_is_kept_and_a_later_one_refused(stock, keeper, at) -> None:
    keeper.post(at("goods_in"), delivery(stock, on="2026-01-10"))
    entry = Entry.objects.order_by("-pk")[0]
    assert entry.at.astimezone(stock.shop.zone).isoformat() == "2026-01-10T12:00:00-06:00"
    late = keeper.post(at("goods_in"), delivery(stock, on="2026-02-10"))
    assert "has not come yet" in late.content.decode()


def test_choosing_an_item_asks_only_what_it_needs(stock, keeper, at) -> None:
    htmx = {"HX-Request": "true"}
    for item, asks in ((stock.tube, True), (stock.straw, False)):
        page = keeper.get(at("goods_in"), {"item": item.pk}, headers=htmx).content.decode()
        assert ("How long is each?" in page) is asks
        assert "<html" not in page
    assert "How many? (bale)" in page


def test_the_bought_length_is_proposed(stock, keeper, at) -> None:
    page = keeper.get(at("goods_in"), {"item": stock.tube.pk}).content.decode()
    assert 'value="240 in"' in page


def test_another_shops_item_cannot_be_booked_in(stock, keeper, at, other_shop) -> None:
    from_there = delivery(stock, item=99_999)
    assert keeper.post(at("goods_in"), from_there).status_code == 422


def test_a_reader_may_not_book_in(stock, reader, client_of, at) -> None:
    assert client_of(reader).get(at("goods_in")).status_code == 403


def test_a_length_in_millimetres_is_read_in_a_shop_of_inches(stock, keeper, at) -> None:
    keeper.post(at("goods_in"), delivery(stock, length="508 mm"))
    assert (inches(20), 4) in pieces_of(stock.tube)
