"""A rack with tube, a box of bolts and a head made from both."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

import pytest

from inventory.ledger import actions
from inventory.ledger.models import Entry
from inventory.materials.models import Item, Recipe
from inventory.measures.lengths import feet, inches
from inventory.places.models import Place, Shop
from tests.factories import make_item, make_place, make_recipe

AT = datetime(2026, 1, 14, 19, 0, tzinfo=UTC)


@dataclass
class Bench:
    """One shop's rack, shelf, items and recipe, with short ways to write in its book."""

    shop: Shop
    rack: Place
    shelf: Place
    tube: Item
    bolt: Item
    head: Item
    recipe: Recipe

    def bring(self, item: Item, quantity: int | str, **rest: Any) -> Entry:
        """Goods in from a supplier, to the item's home."""
        usual = {"place": item.home, "source": "Reed & Sons", "is_donated": False}
        given = usual | {"by": None, "at": AT} | rest
        return actions.goods_in(shop=self.shop, item=item, quantity=Decimal(quantity), **given)

    def make(self, good: int, **rest: Any) -> Entry:
        """So many heads."""
        given = {"by": None, "at": AT, "night_key": "2026-01-14"} | rest
        return actions.make(shop=self.shop, recipe=self.recipe, good=good, **given)


@pytest.fixture
def bench(shop: Shop) -> Bench:
    """Heads take two 24-inch pieces and half a box of bolts; nothing has come in yet."""
    rack, shelf = make_place(shop, name="Tube rack"), make_place(shop, name="Bolt shelf")
    tube = make_item(
        shop, name="Tube", kind=Item.Kind.METAL, home=rack,
        kerf_um=inches("1/8"), trim_um=0, keep_um=feet(1), bought_length_um=feet(20),
    )  # fmt: skip
    bolt = make_item(shop, name="Bolts", kind=Item.Kind.SMALL, unit="box", home=shelf)
    head = make_item(shop, name="Head", home=make_place(shop, name="Head rack"))
    recipe = make_recipe(head, (tube, 2, inches(24)), (bolt, Decimal("0.5"), 0))
    return Bench(shop, rack, shelf, tube, bolt, head, recipe)
