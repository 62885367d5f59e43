"""A drawing of a post and a head, stock made to it, and a revision in other tube."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

from inventory.ledger import actions as ledger
from inventory.materials.models import Item
from inventory.measures.lengths import feet, inches
from inventory.places.models import Place, Shop
from tests.factories import (
    make_item,
    make_operation,
    make_part,
    make_place,
    make_recipe,
    make_room,
    make_sheet,
    make_station,
)
from tests.inventory.winter import AT
from workshops.stations.actions import edit_part, new_revision, put_in_force
from workshops.stations.models import BuildSheet, Operation, Part, SheetPart

PIN = [{"from_end_um": inches(6), "diameter_um": inches("7/16"), "is_pin": True}]
# A stem of each size slides in the post of the same size and in no other.
SIZES = {"old": ("1 3/4", "1 3/8"), "new": ("2 1/2", "2 1/8")}


@dataclass
class Shift:
    """The shop before its drawing changes: parts by name, and what lies where."""

    shop: Shop
    rack: Place
    yard: Place
    items: dict[str, Item]
    parts: dict[str, Part]
    sheet: BuildSheet
    weld: Operation
    tubes: dict[str, Item] = field(default_factory=dict)

    def lay(self, name: str, count: int, *, held: int = 0, place: Place | None = None) -> None:
        """So many of one thing, some of them on hold."""
        at = {"shop": self.shop, "item": self.items[name], "by": None, "at": AT}
        where = place or self.rack
        ledger.goods_in(
            quantity=Decimal(count), place=where, source="made before", is_donated=True, **at
        )
        if held:
            ledger.hold(quantity=Decimal(held), place=where, reason="look at it", **at)

    def change(self, **parts: dict[str, Any]) -> BuildSheet:
        """The next revision in force, with those parts drawn otherwise."""
        draft = new_revision(sheet=self.sheet, by=None)
        for name, fields in parts.items():
            edit_part(part=self.parts[name], fields=fields)
        return put_in_force(sheet=draft, on=date(2026, 1, 14), by=None)

    def other_tube(self) -> BuildSheet:
        """Both tubes much larger: nothing of the old goes together with the new."""
        return self.change(post={"stock": self.tubes["post"]}, stem={"stock": self.tubes["stem"]})


def make_shift(shop: Shop) -> Shift:
    """The drawing at revision A in force, and nothing on the shelves."""
    rack = make_place(shop, name="Rack", room=make_room(shop))
    yard = make_place(shop, name="Truck")
    names = ("post-cut", "post", "stem", "bar", "head")
    items = {name: make_item(shop, slug=name, name=name.capitalize(), home=rack) for name in names}
    items["set"] = make_item(shop, slug="set", name="Set", kind=Item.Kind.SET, home=yard)
    tubes = {
        f"{size} {part}": _tube(shop, f"{size} {part}", across)
        for size, pair in SIZES.items()
        for part, across in zip(("post", "stem"), pair, strict=True)
    }
    parts = {
        "post": _part(shop, items["post"], tubes["old post"], Part.Role.POST, feet(7)),
        "stem": _part(shop, items["stem"], tubes["old stem"], Part.Role.STEM, inches(32)),
    }
    _recipes(items, tubes)
    sheet = _sheet(shop, items, parts)
    head = items["head"].recipes.get()
    weld = make_operation(make_station(shop), head, slug="weld", name="Weld heads", sheet=sheet)
    newer = {"post": tubes["new post"], "stem": tubes["new stem"]}
    return Shift(shop, rack, yard, items, parts, sheet, weld, newer)


def _tube(shop: Shop, name: str, across: str) -> Item:
    return make_item(
        shop, slug=name.replace(" ", "-"), name=name, kind=Item.Kind.METAL,
        outside_um=inches(across), wall_um=inches("0.083"),
    )  # fmt: skip


def _part(shop: Shop, item: Item, stock: Item, role: str, length_um: int) -> Part:
    return make_part(
        shop, name=item.name, item=item, stock=stock, role=role, length_um=length_um, holes=PIN
    )


def _recipes(items: dict[str, Item], tubes: dict[str, Item]) -> None:
    make_recipe(items["post-cut"], (tubes["old post"], 1, feet(7)))
    make_recipe(items["post"], (items["post-cut"], 1, 0))
    make_recipe(items["stem"], (tubes["old stem"], 1, inches(32)))
    make_recipe(items["head"], (items["stem"], 1, 0), (items["bar"], 1, 0))
    make_recipe(items["set"], (items["post"], 1, 0), (items["head"], 1, 0))


def _sheet(shop: Shop, items: dict[str, Item], parts: dict[str, Part]) -> BuildSheet:
    fit = {"inner": "stem", "outer": "post", "clearance_um": inches("1/8"), "pin_um": inches("3/8")}
    sheet = make_sheet(shop, name="Cylinder", drawing_number="NC-1", set_item=items["set"], fit=fit)
    for part in parts.values():
        SheetPart.objects.create(sheet=sheet, part=part)
    return put_in_force(sheet=sheet, on=date(2025, 11, 1), by=None)
