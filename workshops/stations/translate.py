"""Build sheets as rows, and as the values that geometry and drawings work on."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from inventory.engines import strict
from inventory.engines.strict import ProblemRefused
from inventory.materials.models import Item
from inventory.measures.lengths import LengthRefused, Units, read_length
from workshops.club.queries import Rules
from workshops.stations.geometry import parts as drawn
from workshops.stations.geometry.limits import SheetLimits
from workshops.stations.geometry.sheet import FitSpec, Joint, LegsSpec, RollSpec, Sheet
from workshops.stations.geometry.warned import SheetWarning
from workshops.stations.geometry.warnings import warnings_for
from workshops.stations.models import BuildSheet, Part

_MESH = re.compile(r"^\s*(?P<one>[^x×]+?)\s*[x×]\s*(?P<two>.+?)\s*(?P<unit>in|mm|cm)?\s*$")


class SheetRefused(ValueError):
    """A build sheet of which no drawing can be made: ``field`` says where, and why."""

    def __init__(self, field: str, reason: str) -> None:
        self.field = field
        self.reason = reason
        super().__init__(f"{field}: {reason}")


def sheet_of(row: BuildSheet) -> Sheet:
    """The build sheet as drawn: the frozen copy where there is one, else its rows.

    One query for the parts unless ``sheet_parts__part__item`` and ``__stock`` are prefetched.

    Raises
    ------
    SheetRefused
        Naming the value of which no drawing can be made.
    """
    try:
        # A frozen copy wins over the rows: a part drawn anew must not change last winter's sheet.
        if row.drawn is not None:
            return Sheet.from_json(row.drawn)
        return sheet_from_rows(row)
    except ProblemRefused as refused:
        raise SheetRefused(refused.key.removeprefix("sheet."), refused.reason) from refused
    except ValueError as refused:
        raise SheetRefused("sheet", str(refused)) from refused


def sheet_from_rows(row: BuildSheet) -> Sheet:
    """The build sheet as its rows stand now; for drafts, and for freezing.

    Raises
    ------
    ValueError, ProblemRefused
        When a value makes no drawing.
    """
    lines = row.sheet_parts.all()
    # A filter or a join on prefetched rows would throw them away and ask again.
    if not getattr(row, "_prefetched_objects_cache", None):
        lines = lines.select_related("part__item", "part__stock")
    return Sheet(
        name=row.name,
        drawing_number=row.drawing_number,
        revision=row.revision,
        parts=tuple(part_of(line.part, line.per_set) for line in lines),
        joints=tuple(
            strict.from_json(Joint, joint, f"joints[{place}]")
            for place, joint in enumerate(row.welds)
        ),
        roll=_maybe(RollSpec, row.roll, "roll"),
        fit=_maybe(FitSpec, row.fit, "fit"),
        legs=_maybe(LegsSpec, row.legs, "legs"),
    )


def part_of(row: Part, count: int = 1) -> drawn.Part:
    """The part as drawn.

    Raises
    ------
    ValueError, ProblemRefused
        When its stock has no section, or a hole or bend makes no sense.
    """
    return drawn.Part(
        name=row.name,
        item=row.item.slug,
        role=drawn.PartRole(row.role),
        section=section_of(row.stock),
        length_um=row.length_um,
        holes=_each(drawn.Hole, row.holes, f"{row.name}: holes"),
        bends=_each(drawn.Bend, row.bends, f"{row.name}: bends"),
        count=count,
        tolerance_um=row.tolerance_um,
        stock_length_um=row.stock.bought_length_um,
        width_um=row.width_um,
        end_name=row.end_name,
    )


def section_of(stock: Item) -> drawn.Section:
    """The section of a stock item, seen end on.

    Raises
    ------
    ValueError
        When the item has no shape, or its mesh cannot be read.
    """
    if not stock.shape:
        raise ValueError(f"{stock.name} has no section: say on its page what shape it has")
    kind = drawn.SectionKind(stock.shape)
    if kind is drawn.SectionKind.WIRE_MESH:
        # People write either spacing first.
        short, long = sorted(read_mesh(stock.mesh))
        return drawn.Section(
            kind, mesh_long_um=long, mesh_short_um=short, wire_um=stock.wire_um or 0
        )
    # A rod that was a tube once may have kept a wall in its row.
    wall = (stock.wall_um or 0) if kind.is_hollow else 0
    return drawn.Section(kind, outside_um=stock.outside_um or 0, wall_um=wall)


def read_mesh(text: str) -> tuple[int, int]:
    """The two spacings of a mesh written like ``2 x 4 in`` or ``50 × 25 mm``.

    Raises
    ------
    ValueError
        When the text is no mesh.
    """
    match = _MESH.match(text)
    try:
        if not match:
            raise LengthRefused(text)
        units = Units.MILLIMETRE if match["unit"] == "mm" else Units.INCH
        return read_length(match["one"], units), read_length(match["two"], units)
    except LengthRefused:
        raise ValueError(f"“{text}” is not a mesh: write it like 2 x 4 in") from None


def limits_of(rules: Rules) -> SheetLimits:
    """What the club decided about its build sheets."""
    return SheetLimits(
        max_ring_diameter_um=rules.ring_inside_max_um,
        min_wire_um=rules.wire_min_um,
        max_mesh_um=rules.mesh_max_um,
        min_overlap_um=rules.overlap_min_um,
        min_metal_um=rules.hole_edge_min_um,
        min_engaged_um=rules.stem_engaged_min_um,
        wall_tolerance_percent=rules.wall_tolerance_percent,
    )


def warnings_on(sheet: Sheet, rules: Rules, units: Units) -> list[SheetWarning]:
    """What the club's limits and the geometry find on a sheet; empty when nothing."""
    least = rules.stem_clearance_min_um
    # The stricter of what the sheet asks for and what the club asks for.
    if sheet.fit and least and sheet.fit.clearance_um < least:
        sheet = replace(sheet, fit=replace(sheet.fit, clearance_um=least))
    return list(warnings_for(sheet, limits_of(rules), units))


def warnings_of(row: BuildSheet, rules: Rules) -> list[SheetWarning]:
    """The same for a build sheet, and what stops it from being drawn at all."""
    try:
        return warnings_on(sheet_of(row), rules, row.shop.length_units)
    except SheetRefused as refused:
        return [SheetWarning(refused.field, f"Nothing can be drawn yet: {refused}.")]


def _maybe(kind: type[Any], raw: object, key: str) -> Any:
    return None if raw is None else strict.from_json(kind, raw, key)


def _each(kind: type[Any], raw: Iterable[object], key: str) -> tuple[Any, ...]:
    return tuple(strict.from_json(kind, each, f"{key}[{place}]") for place, each in enumerate(raw))
