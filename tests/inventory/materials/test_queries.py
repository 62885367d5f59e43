"""What sets come to, all the way down."""

from __future__ import annotations

import pytest

from inventory.materials.queries import (
    explode,
    items_of,
    metals_of,
    pieces_wanted,
    recipe_of,
    recipes_in_use,
    sets_of,
    used_in,
)
from inventory.measures.lengths import feet, inches
from inventory.places.models import Shop
from tests.factories import make_item, make_recipe
from tests.inventory.winter import Stock, make_stock


@pytest.fixture
def stock(shop: Shop) -> Stock:
    return make_stock(shop)


def test_items_are_found_by_part_of_their_name_or_their_home(stock: Stock) -> None:
    assert [item.name for item in items_of(stock.shop, "tub")] == ["Tube"]
    assert [item.name for item in items_of(stock.shop, "shelf")] == ["Rings", "Straw"]
    assert not items_of(stock.shop, "canoe")


def test_metals_and_sets_are_listed_apart(stock: Stock) -> None:
    assert [item.name for item in metals_of(stock.shop)] == ["Tube"]
    assert [item.name for item in sets_of(stock.shop)] == ["Set"]


def test_bought_goods_have_no_recipe(stock: Stock) -> None:
    assert recipe_of(stock.straw) is None


def test_an_item_says_what_it_is_used_in(stock: Stock) -> None:
    assert [line.recipe.output.name for line in used_in(stock.tube)] == ["Head", "Post"]


def test_three_sets_come_to_three_posts_and_six_head_pieces(stock: Stock) -> None:
    told = explode(recipes_in_use(stock.shop), {stock.complete.pk: 3})
    assert told.quantities[stock.post.pk] == 3
    assert told.quantities[stock.straw.pk] == pytest.approx(3 * 0.25)
    assert told.pieces[stock.tube.pk] == {
        (stock.post.pk, feet(7)): 3,
        (stock.head.pk, inches(20)): 6,
    }


def test_a_recipe_for_four_needed_for_five_runs_twice(shop: Shop) -> None:
    tag, sheet = make_item(shop), make_item(shop)
    make_recipe(tag, (sheet, 1, 0), quantity=4)
    told = explode(recipes_in_use(shop), {tag.pk: 5})
    assert told.quantities[sheet.pk] == 2


def test_the_pieces_of_a_material_come_longest_first_with_their_share_of_a_set(
    stock: Stock,
) -> None:
    pieces = pieces_wanted(stock.tube, recipes_in_use(stock.shop), {stock.complete.pk: 3})
    assert [(p.made_into.name, p.count, p.per_set) for p in pieces] == [
        ("Post", 3, 1),
        ("Head", 6, 2),
    ]


def test_two_kinds_of_sets_have_no_share_of_one_set(stock: Stock) -> None:
    other = make_item(stock.shop, name="Low set")
    make_recipe(other, (stock.head, 1, 0))
    wanted = {stock.complete.pk: 1, other.pk: 1}
    pieces = pieces_wanted(stock.tube, recipes_in_use(stock.shop), wanted)
    assert [(p.count, p.per_set) for p in pieces] == [(1, 0), (4, 0)]


def test_nothing_wanted_comes_to_nothing(stock: Stock) -> None:
    assert pieces_wanted(stock.tube, recipes_in_use(stock.shop), {}) == []
