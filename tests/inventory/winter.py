"""A small shop with everything a set is made from, for tests of stock and needs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal

from inventory.ledger import actions as ledger
from inventory.materials.models import Item
from inventory.measures.lengths import feet, inches
from inventory.places.models import Shop
from tests.factories import make_item, make_place, make_recipe

AT = datetime(2026, 1, 14, 19, 0, tzinfo=UTC)


@dataclass
class Stock:
    """A post and a head from tube, a cylinder from straw; one set takes one of each."""

    shop: Shop
    tube: Item
    straw: Item
    rings: Item
    post: Item
    head: Item
    cylinder: Item
    complete: Item

    def bring(self, item: Item, quantity: int | str, length_um: int = 0) -> None:
        """Goods in to the item's home."""
        ledger.goods_in(
            shop=self.shop, item=item, quantity=Decimal(quantity), place=item.home,
            length_um=length_um, source="Reed & Sons", is_donated=False, by=None, at=AT,
        )  # fmt: skip


def make_stock(shop: Shop) -> Stock:
    """Recipes in use and nothing on the shelves."""
    metal, shelf, rack = (make_place(shop, name=name) for name in ("Yard", "Shelf", "Rack"))
    tube = make_item(
        shop, slug="tube", name="Tube", kind=Item.Kind.METAL, home=metal, unit_price=Decimal(30),
        supplier="Reed & Sons", pack_size=5,
    )  # fmt: skip
    straw = make_item(
        shop, slug="straw", name="Straw", kind=Item.Kind.FILL, home=shelf, unit="bale",
        is_one_chance=True, unit_price=Decimal("4.50"),
    )  # fmt: skip
    rings = make_item(
        shop, slug="rings", name="Rings", kind=Item.Kind.SMALL, home=shelf, unit="box",
        keep_at_least=1,
    )  # fmt: skip
    post, head, cylinder = (
        make_item(shop, slug=name.lower(), name=name, home=rack)
        for name in ("Post", "Head", "Cylinder")
    )
    complete = make_item(shop, slug="set", name="Set", kind=Item.Kind.SET, home=rack)
    make_recipe(post, (tube, 1, feet(7)))
    make_recipe(head, (tube, 2, inches(20)))
    make_recipe(cylinder, (straw, Decimal("0.25"), 0), (rings, Decimal("0.1"), 0))
    make_recipe(complete, (post, 1, 0), (head, 1, 0), (cylinder, 1, 0))
    return Stock(shop, tube, straw, rings, post, head, cylinder, complete)
