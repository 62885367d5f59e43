"""A build sheet in force whose stem slides in its post, for tests of go and no-go."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from inventory.materials.models import Item
from inventory.measures.lengths import inches
from inventory.places.models import Shop
from tests.factories import make_item, make_part, make_sheet
from workshops.stations.models import BuildSheet, Part, SheetPart


@dataclass
class Drawn:
    """The sheet, and what its parts are cut from."""

    sheet: BuildSheet
    post_tube: Item
    stem_tube: Item
    rod: Item
    wire: Item
    parts: dict[str, Part]


def metal(shop: Shop, name: str, **fields: Any) -> Item:
    usual: dict[str, Any] = {"slug": name.lower().replace(" ", "-"), "wall_um": None}
    return make_item(shop, name=name, kind=Item.Kind.METAL, **(usual | fields))


def make_drawn(shop: Shop, **fields: Any) -> Drawn:
    """Post 2 in x 0.120, stem and bar 1 1/2 in x 0.083, 1/8 in of play asked for; welded."""
    post_tube = metal(shop, "Post tube", outside_um=inches(2), wall_um=inches("0.120"))
    stem_tube = metal(shop, "Stem tube", outside_um=inches("1 1/2"), wall_um=inches("0.083"))
    rod = metal(shop, "Rod", shape=Item.Shape.ROUND_ROD, outside_um=inches("3/8"))
    wire = metal(
        shop, "Wire", shape=Item.Shape.WIRE_MESH, outside_um=None, wire_um=inches("0.080"),
        mesh="2 x 4 in",
    )  # fmt: skip
    cut = {"post": post_tube, "stem": stem_tube, "bar": stem_tube, "cradle_rod": rod}
    parts = {
        role: make_part(shop, name=role.replace("_", " ").capitalize(), role=role, stock=stock)
        for role, stock in cut.items()
    }
    parts["wire"] = make_part(
        shop, name="Wire piece", role="wire", stock=wire, width_um=inches(36)
    )  # fmt: skip
    slug = {role: part.item.slug for role, part in parts.items()}
    fit = {"inner": slug["stem"], "outer": slug["post"], "clearance_um": inches("1/8")}
    weld = {"onto": slug["bar"], "at_um": 1, "part_at_um": 1, "kind": "weld"}
    usual = {
        "drawing_number": "TP-1", "status": "in_force", "in_force_from": date(2025, 10, 1),
        "fit": fit | {"pin_um": inches("3/8")},
        "welds": [weld | {"part": slug[role]} for role in ("stem", "cradle_rod")],
    }  # fmt: skip
    sheet = make_sheet(shop, **(usual | fields))
    for part in parts.values():
        SheetPart.objects.create(sheet=sheet, part=part)
    return Drawn(sheet, post_tube, stem_tube, rod, wire, parts)
