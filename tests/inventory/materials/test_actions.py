"""Items and recipes are refused, field by field, before they can spoil the book."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from inventory.materials.actions import NewPart, RecipeRefused, add_item, set_recipe
from inventory.materials.models import Item
from inventory.materials.queries import recipe_of
from inventory.measures.lengths import feet
from inventory.places.models import Shop
from tests.factories import make_item, make_place


def test_an_item_is_named_and_gets_its_address(shop: Shop) -> None:
    item = add_item(shop=shop, name="Cradle rod, 3/8", kind=Item.Kind.METAL, kerf_um=3_000)
    assert item.slug == "cradle-rod-38"


def test_two_items_of_one_name_need_two_addresses(shop: Shop) -> None:
    add_item(shop=shop, name="Rod", kind=Item.Kind.METAL)
    with pytest.raises(ValidationError, match="called that already"):
        add_item(shop=shop, name="Rod", kind=Item.Kind.METAL)


def test_a_field_items_do_not_have_is_refused_by_name(shop: Shop) -> None:
    with pytest.raises(TypeError, match="colour"):
        add_item(shop=shop, name="Rod", kind=Item.Kind.METAL, colour="red")


def test_an_item_cannot_live_in_another_shop(shop: Shop, other_shop: Shop) -> None:
    with pytest.raises(ValidationError, match="another shop"):
        add_item(shop=shop, name="Rod", kind=Item.Kind.SMALL, home=make_place(other_shop))


def test_a_wall_thicker_than_half_the_tube_is_refused(shop: Shop) -> None:
    with pytest.raises(ValidationError, match="item_wall_thinner_than_half"):
        add_item(shop=shop, name="Tube", kind=Item.Kind.METAL, outside_um=38_100, wall_um=20_000)


def test_a_new_recipe_puts_the_old_one_out_of_use(shop: Shop) -> None:
    head, bolt, pin = make_item(shop), make_item(shop), make_item(shop)
    first = set_recipe(output=head, parts=[NewPart(bolt, Decimal(4))])
    set_recipe(output=head, parts=[NewPart(pin, Decimal(2))])
    first.refresh_from_db()
    assert not first.is_in_use
    assert [line.item for line in recipe_of(head).lines.all()] == [pin]


@pytest.mark.parametrize(
    ("kind", "quantity", "length_um", "why"),
    [
        (Item.Kind.METAL, "1", 0, "say how long"),
        (Item.Kind.SMALL, "1", feet(1), "not cut by length"),
        (Item.Kind.METAL, "1.5", feet(1), "counted whole"),
        (Item.Kind.SMALL, "0", 0, "more than nothing"),
    ],
)
def test_a_part_that_cannot_be_taken_is_refused(
    shop: Shop, kind: str, quantity: str, length_um: int, why: str
) -> None:
    part = NewPart(make_item(shop, kind=kind), Decimal(quantity), length_um)
    with pytest.raises(RecipeRefused, match=why):
        set_recipe(output=make_item(shop), parts=[part])


def test_the_same_part_twice_is_refused(shop: Shop) -> None:
    bolt = make_item(shop)
    with pytest.raises(RecipeRefused, match="twice"):
        set_recipe(output=make_item(shop), parts=[NewPart(bolt, Decimal(1))] * 2)


def test_a_thing_is_never_needed_to_make_itself(shop: Shop) -> None:
    post, head, complete = make_item(shop), make_item(shop), make_item(shop, name="Set")
    set_recipe(output=complete, parts=[NewPart(head, Decimal(1))])
    set_recipe(output=head, parts=[NewPart(post, Decimal(1))])
    with pytest.raises(RecipeRefused, match="needed to make itself"):
        set_recipe(output=post, parts=[NewPart(complete, Decimal(1))])


def test_a_part_of_another_shop_is_refused(shop: Shop, other_shop: Shop) -> None:
    with pytest.raises(RecipeRefused, match="another shop"):
        set_recipe(output=make_item(shop), parts=[NewPart(make_item(other_shop), Decimal(1))])
