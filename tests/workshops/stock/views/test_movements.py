"""What moved, who wrote it, and taking it back."""

from __future__ import annotations

from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory.ledger.models import Entry
from inventory.ledger.queries import balance_of
from inventory.places.models import Shop


def entry_of(item) -> Entry:
    return Entry.objects.filter(lines__item=item)[0]


def test_movements_are_shown_and_chosen_by_place(stock, keeper, at) -> None:
    assert "Tube" in keeper.get(at("movements")).content.decode()
    page = keeper.get(at("movements"), {"place": stock.rings.home.pk}).content.decode()
    assert "Rings" in page
    assert "Tube" not in page


def test_an_empty_book_says_what_is_written_in_it(shop: Shop, keeper, at) -> None:
    assert "Nothing has moved yet" in keeper.get(at("movements")).content.decode()


def test_a_night_is_shown_alone(stock, keeper, at) -> None:
    assert "Nothing has moved" in keeper.get(at("movements"), {"night": "x"}).content.decode()


@pytest.mark.parametrize("times", [1, 2])
def test_the_page_takes_as_many_queries_for_a_long_book(stock, keeper, at, times) -> None:
    for _ in range(30 * times):
        stock.bring(stock.rings, 1)
    with CaptureQueriesContext(connection) as made:
        keeper.get(at("movements"))
    assert len(made) <= 8


def test_an_entry_shows_both_sides_and_its_source(stock, keeper, at) -> None:
    page = keeper.get(at("entry", entry_of(stock.rings).pk)).content.decode()
    assert "+3" in page
    assert "-3" in page
    assert "Reed &amp; Sons" in page


def test_an_entry_is_taken_back_with_a_reason(stock, keeper, at) -> None:
    entry = entry_of(stock.rings)
    given = {"reason": "another shop's box", "key": str(uuid4())}
    answer = keeper.post(at("take_back", entry.pk), given, follow=True)
    assert "taken back" in answer.content.decode()
    assert balance_of(stock.rings) == 0


def test_what_was_used_since_cannot_be_taken_back(stock, keeper, at) -> None:
    entry = entry_of(stock.rings)
    given = {"reason": "wrong", "key": str(uuid4())}
    keeper.post(at("take_back", entry.pk), given)
    answer = keeper.post(at("take_back", entry.pk), given | {"key": str(uuid4())})
    assert answer.status_code == 422
    assert "taken back before" in answer.content.decode()


def test_a_reason_is_asked_for(stock, keeper, at) -> None:
    entry = entry_of(stock.rings)
    assert keeper.post(at("take_back", entry.pk), {"reason": ""}).status_code == 422


def test_another_shops_entry_is_not_found(stock, stranger, client_of, at) -> None:
    assert client_of(stranger).get(at("entry", entry_of(stock.rings).pk)).status_code == 404


def test_a_reader_sees_no_way_to_take_back(stock, reader, client_of, at) -> None:
    page = client_of(reader).get(at("entry", entry_of(stock.rings).pk)).content.decode()
    assert "Rings" in page
    assert "Take it back" not in page
