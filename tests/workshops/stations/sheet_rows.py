"""Build sheets of the geometry tests as rows of the database."""

from __future__ import annotations

from inventory.engines.strict import to_json
from inventory.materials.models import Item
from inventory.measures.lengths import spell_inches
from inventory.places.models import Shop
from tests.factories import make_item
from workshops.stations.geometry.parts import Part as DrawnPart
from workshops.stations.geometry.parts import Section, SectionKind
from workshops.stations.geometry.sheet import Sheet
from workshops.stations.models import BuildSheet, Part, SheetPart


def keep_sheet(shop: Shop, sheet: Sheet, **fields: object) -> BuildSheet:
    """The rows of a sheet; parts that the shop has already are shared."""
    row = BuildSheet.objects.create(
        shop=shop, name=sheet.name, drawing_number=sheet.drawing_number,
        revision=sheet.revision, set_item=make_item(shop, kind=Item.Kind.SET),
        roll=to_json(sheet.roll), fit=to_json(sheet.fit), legs=to_json(sheet.legs),
        welds=to_json(sheet.joints), **fields,
    )  # fmt: skip
    for part in sheet.parts:
        SheetPart.objects.create(sheet=row, part=keep_part(shop, part), per_set=part.count)
    return row


def keep_part(shop: Shop, part: DrawnPart) -> Part:
    """The row of a part, with its stock and the item it is on the rack."""
    found = Part.objects.filter(shop=shop, item__slug=part.item).first()
    return found or Part.objects.create(
        shop=shop, name=part.name, item=make_item(shop, slug=part.item),
        stock=_stock(shop, part.section, part.stock_length_um), role=part.role.value,
        length_um=part.length_um, width_um=part.width_um, end_name=part.end_name,
        tolerance_um=part.tolerance_um, holes=to_json(part.holes), bends=to_json(part.bends),
    )  # fmt: skip


def _stock(shop: Shop, section: Section, bought_um: int | None) -> Item:
    fields = {"outside_um": section.outside_um, "wall_um": section.wall_um or None}
    if section.kind is SectionKind.WIRE_MESH:
        mesh = (section.mesh_short_um, section.mesh_long_um)
        spelled = " x ".join(spell_inches(um) for um in mesh) + " in"
        fields = {"mesh": spelled, "wire_um": section.wire_um, "outside_um": None, "wall_um": None}
    return make_item(
        shop, kind=Item.Kind.METAL, shape=section.kind.value, bought_length_um=bought_um, **fields
    )
