"""A shelf and a rack to count, hands to move things, and two people who count."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest

from inventory.ledger import actions as ledger
from inventory.ledger.models import Entry
from inventory.materials.models import Item
from inventory.measures.lengths import feet
from inventory.places.models import Place, Shop
from inventory.stocktake import actions
from inventory.stocktake.actions import Counter
from inventory.stocktake.models import CountLine, CountSheet, Stocktake
from tests.factories import make_item, make_place

NINE = datetime(2026, 1, 10, 9, 0, tzinfo=UTC)
COUNTERS = {1: Counter("Anders"), 2: Counter("Birte"), 3: Counter("Anders and Birte")}


def after(minutes: int) -> datetime:
    """So many minutes after nine."""
    return NINE + timedelta(minutes=minutes)


@dataclass
class Scene:
    """Rings and straw on a shelf, tube in a rack."""

    shop: Shop
    shelf: Place
    rack: Place
    rings: Item
    straw: Item
    tube: Item

    def bring(self, item: Item, quantity: int | str, minutes: int = -60, **rest: Any) -> Entry:
        """Goods in to the item's home, at a time."""
        return ledger.goods_in(
            shop=self.shop, item=item, quantity=Decimal(quantity), place=item.home,
            source="Reed & Sons", is_donated=False, by=None, at=after(minutes), **rest,
        )  # fmt: skip

    def take(self, item: Item, quantity: int | str, minutes: int) -> Entry:
        """Something used up, at a time."""
        return ledger.scrap(
            shop=self.shop, item=item, quantity=Decimal(quantity), place=item.home,
            reason="used up", by=None, at=after(minutes),
        )  # fmt: skip

    def open(self, *places: Place) -> Stocktake:
        """A stocktake of the places, begun at nine."""
        return actions.open_stocktake(
            shop=self.shop, name="January", places=places or [self.shelf], by=None, at=NINE
        )

    def sheet(self) -> CountSheet:
        """The sheet of a stocktake of the shelf alone."""
        return self.open().sheets.get()


def line(sheet: CountSheet, item: Item, length_um: int = 0) -> CountLine:
    """The sheet's line of an item, as it stands now."""
    return sheet.lines.get(item=item, length_um=length_um)


def put(
    sheet: CountSheet, turn: int, counts: Mapping[Item, int | str | None], minutes: int, **rest: Any
) -> None:
    """Counts of one turn at a moment, by item."""
    given = {
        line(sheet, item).pk: None if count is None else Decimal(count)
        for item, count in counts.items()
    }
    who = {"counter": COUNTERS[turn], "by": None} | rest
    actions.put_count(sheet=sheet, turn=turn, counts=given, at=after(minutes), **who)


def count(
    sheet: CountSheet, turn: int, counts: Mapping[Item, int | str | None], minutes: int, **rest: Any
) -> None:
    """Counts of one turn, done."""
    put(sheet, turn, counts, minutes, **rest)
    actions.finish_look(sheet=sheet, turn=turn, at=after(minutes))


def post(sheet: CountSheet, minutes: int = 60) -> list[Entry]:
    """Open the book and post."""
    actions.open_book(sheet=sheet, by=None, at=after(minutes))
    return actions.post_sheet(sheet=sheet, by=None, at=after(minutes))


@pytest.fixture
def scene(shop: Shop) -> Scene:
    """Thirty boxes of rings, eight bales and four sticks by the book, an hour before nine."""
    shelf, rack = make_place(shop, name="Shelf"), make_place(shop, name="Tube rack")
    rings = make_item(shop, name="Rings", kind=Item.Kind.SMALL, unit="box", home=shelf)
    straw = make_item(shop, name="Straw", kind=Item.Kind.FILL, unit="bale", home=shelf)
    tube = make_item(shop, name="Tube", kind=Item.Kind.METAL, home=rack)
    scene = Scene(shop, shelf, rack, rings, straw, tube)
    scene.bring(rings, 30)
    scene.bring(straw, 8)
    scene.bring(tube, 4, length_um=feet(20))
    return scene
