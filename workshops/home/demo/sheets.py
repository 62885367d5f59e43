"""``sheets.json``: parts with holes and bends, and the four build sheets."""

from __future__ import annotations

from inventory.materials.models import Item
from inventory.places.models import Shop
from workshops.home.demo.days import Days
from workshops.home.demo.files import Row, kept, length, lengths, read
from workshops.stations.models import BuildSheet, Part, SheetPart
from workshops.stations.translate import sheet_from_rows


def load_sheets(shop: Shop, items: dict[str, Item], days: Days) -> dict[str, BuildSheet]:
    """The build sheets in force, by drawing number."""
    found = read("sheets")
    parts = _load_parts(shop, items, found["parts"])
    roll = _roll(found["roll"])
    sheets = BuildSheet.objects.bulk_create(
        _sheet(shop, items, row, roll=roll, days=days) for row in found["sheets"]
    )
    SheetPart.objects.bulk_create(
        SheetPart(sheet=sheet, part=parts[item], per_set=count)
        for sheet, row in zip(sheets, found["sheets"], strict=True)
        for item, count in row["parts"].items()
    )
    for sheet in sheets:
        sheet.drawn = sheet_from_rows(sheet).to_json()  # as it came into force
    BuildSheet.objects.bulk_update(sheets, ["drawn"])
    return {sheet.drawing_number: sheet for sheet in sheets}


def _load_parts(shop: Shop, items: dict[str, Item], rows: list[Row]) -> dict[str, Part]:
    parts = Part.objects.bulk_create(
        Part(
            shop=shop, name=row["name"], item=items[row["item"]], stock=items[row["stock"]],
            holes=[_hole(hole) for hole in row.get("holes", ())],
            bends=[_bend(bend) for bend in row.get("bends", ())],
            **lengths(row, "length", "tolerance", "width"), **kept(row, "role", "end_name"),
        )
        for row in rows
    )  # fmt: skip
    return {part.item.slug: part for part in parts}


def _hole(row: Row) -> Row:
    return lengths(row, "from_end", "diameter") | kept(row, "is_pin", "name")


def _bend(row: Row) -> Row:
    return lengths(row, "at", "inside_radius") | kept(row, "angle_deg", "turn")


def _sheet(shop: Shop, items: dict[str, Item], row: Row, *, roll: Row, days: Days) -> BuildSheet:
    fit = kept(row["fit"], "inner", "outer") | lengths(row["fit"], "clearance", "pin")
    return BuildSheet(
        shop=shop, set_item=items[row["set"]], status=BuildSheet.Status.IN_FORCE,
        in_force_from=days.week(row["in_force_weeks"]), roll=roll, fit=fit,
        welds=[_joint(joint) for joint in row["joints"]],
        **kept(row, "name", "drawing_number", "revision", "note", "legs"),
    )  # fmt: skip


def _roll(row: Row) -> Row:
    """The roll as ``geometry.sheet`` reads it."""
    names = ("piece_length", "width", "mesh_long", "mesh_short", "wire", "ring", "layer")
    return lengths(row, *names) | {key: row[key] for key in row if key not in names}


def _joint(row: Row) -> Row:
    return kept(row, "part", "onto", "kind", "note") | {
        "at_um": length(row["at"]),
        "part_at_um": length(row["part_at"]),
    }
