"""What is on hand, and what is short?"""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory.ledger.models import Balance
from inventory.materials.models import Item
from inventory.measures.lengths import feet
from inventory.needs.actions import work_out
from tests.factories import make_item, make_recipe
from workshops.stock.shelves import LEAF
from workshops.stock.times import today_in


def shown(client, address: str, **query: str) -> str:
    answer = client.get(address, query)
    assert answer.status_code == 200
    return answer.content.decode()


def test_the_stock_is_grouped_and_metal_is_summed_by_length(stock, keeper, at) -> None:
    page = shown(keeper, at("on_hand"))
    order = [page.index(f"<h2 class=\"mt-4\">{group}") for group in
             ("Metal", "Straw and hay", "Small parts", "On the rack", "Complete sets")]  # fmt: skip
    assert order == sorted(order)
    assert "2 × 240 in" in page
    assert "40 ft" in page


def test_an_empty_shop_says_what_to_do_first(shop, keeper, at) -> None:
    assert "Nothing is counted yet" in shown(keeper, at("on_hand"))


def test_a_search_finds_part_of_a_name_and_says_when_there_is_none(stock, keeper, at) -> None:
    assert "Rings" not in shown(keeper, at("on_hand"), q="straw")
    assert "Nothing here goes by that name" in shown(keeper, at("on_hand"), q="canoe")


def test_one_group_is_shown_alone(stock, keeper, at) -> None:
    page = shown(keeper, at("on_hand"), kind="metal")
    assert "Tube" in page
    assert "Straw<" not in page


def test_htmx_gets_the_shelves_alone(stock, keeper, at) -> None:
    answer = keeper.get(at("on_hand"), headers={"HX-Request": "true"})
    piece = answer.content.decode()
    assert "Rings" in piece
    assert "<html" not in piece


def test_what_is_below_its_level_is_named_first_with_a_word_and_a_shape(stock, keeper, at) -> None:
    Item.objects.filter(pk=stock.rings.pk).update(keep_at_least=5)
    page = shown(keeper, at("on_hand"))
    assert "Short now" in page
    assert "3 left, keep 5" in page
    assert "◐" in page


def test_what_does_not_last_for_the_wanted_sets_is_short(stock, keeper, at, storekeeper) -> None:
    work_out(
        shop=stock.shop, wanted={stock.complete.pk: 10}, today=today_in(stock.shop), by=storekeeper
    )
    assert "for 3 more sets" in shown(keeper, at("on_hand"), kind="metal")


def test_what_is_used_and_gone_is_said_to_be_gone(stock, keeper, at) -> None:
    pin = make_item(stock.shop, name="Pin", kind=Item.Kind.SMALL)
    make_recipe(make_item(stock.shop), (pin, 1, 0))
    assert "none left" in shown(keeper, at("on_hand"), q="pin")


def test_a_long_stock_is_shown_in_leaves(stock, keeper, at) -> None:
    for _ in range(LEAF):
        make_item(stock.shop, home=stock.rings.home)
    assert "leaf 1 of 2" in shown(keeper, at("on_hand"))
    assert "leaf 2 of 2" in shown(keeper, at("on_hand"), page="2")


def test_another_shops_people_see_nothing(stock, stranger, client_of, at) -> None:
    assert client_of(stranger).get(at("on_hand")).status_code == 404


def test_a_volunteer_is_not_shown_the_stock(stock, volunteer, client_of, at) -> None:
    assert client_of(volunteer).get(at("on_hand")).status_code == 403


def test_a_reader_sees_no_way_to_write(stock, reader, client_of, at) -> None:
    page = shown(client_of(reader), at("on_hand"))
    assert "Rings" in page
    assert at("goods_in") not in page


@pytest.mark.parametrize("times", [1, 2])
def test_the_page_takes_at_most_twelve_queries_whatever_its_size(
    stock, keeper, at, times: int
) -> None:
    for _ in range(30 * times):
        item = make_item(stock.shop, kind=Item.Kind.METAL, home=stock.tube.home)
        for length in (feet(3), feet(5), feet(20)):
            Balance.objects.create(
                item=item, place=stock.tube.home, length_um=length, quantity=Decimal(2)
            )
    work_out(shop=stock.shop, wanted={stock.complete.pk: 10}, today=today_in(stock.shop), by=None)
    with CaptureQueriesContext(connection) as made:
        keeper.get(at("on_hand"))
    assert len(made) <= 12
