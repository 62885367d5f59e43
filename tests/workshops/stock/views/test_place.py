"""The page of a place: what lies there, by the book."""

from __future__ import annotations

from inventory.ledger import actions as ledger
from inventory.measures.lengths import feet
from tests.inventory.winter import AT


def test_a_place_shows_what_lies_there_with_lengths_and_holds(stock, keeper, at) -> None:
    ledger.hold(shop=stock.shop, item=stock.tube, quantity=1, place=stock.tube.home, by=None, at=AT,
                length_um=feet(20), reason="bent")  # fmt: skip
    page = keeper.get(at("place", stock.tube.home.pk)).content.decode()
    for words in ("What lies at Yard?", "Tube", "240 in", "on hold", "Count it", "Move"):
        assert words in page
    assert "items/straw/" not in page


def test_an_empty_place_says_so(stock, keeper, at) -> None:
    page = keeper.get(at("place", stock.post.home.pk)).content.decode()
    assert "By the book nothing lies here" in page


def test_a_reader_sees_it_and_moves_nothing(stock, reader, client_of, at) -> None:
    page = client_of(reader).get(at("place", stock.tube.home.pk)).content.decode()
    assert "240 in" in page
    assert "Count it" not in page


def test_another_shops_place_is_not_found(
    stock, stranger, client_of, at, keeper, other_shop
) -> None:
    other = other_shop.place_set.create(name="Elsewhere")
    assert keeper.get(at("place", other.pk)).status_code == 404


def test_more_things_take_no_more_queries(stock, keeper, at, django_assert_num_queries) -> None:
    keeper.get(at("place", stock.tube.home.pk))
    for length in (3, 4):
        stock.bring(stock.tube, 1, feet(length))
        with django_assert_num_queries(4):
            keeper.get(at("place", stock.tube.home.pk))
