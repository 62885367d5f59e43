"""What the pages of stations and build sheets read."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.db.models import Count, Prefetch, Q, QuerySet
from django.utils import timezone

from inventory.measures.lengths import Units
from inventory.places.models import Shop
from workshops.club.queries import Rules, rules_of
from workshops.stations.comparing import Compared, compared
from workshops.stations.drawing.head import draw_head
from workshops.stations.drawing.head_view import head_of
from workshops.stations.drawing.parts import draw_part
from workshops.stations.drawing.roll_section import draw_roll_section
from workshops.stations.drawing.set_view import draw_set
from workshops.stations.geometry.fit import HeightSetting, height_settings
from workshops.stations.geometry.parts import Part as DrawnPart
from workshops.stations.geometry.roll import RollShape, shape_of
from workshops.stations.geometry.sheet import Sheet
from workshops.stations.geometry.volumes import CylinderFill, fill_of, litres
from workshops.stations.geometry.warned import SheetWarning
from workshops.stations.inspections import Inspected, inspection_of, inspections_at
from workshops.stations.models import BuildSheet, Operation, Part, SheetPart, Station, Tool
from workshops.stations.stopping import standing_stops, stops_of
from workshops.stations.translate import (
    SheetRefused,
    limits_of,
    part_of,
    sheet_from_rows,
    sheet_of,
    warnings_of,
    warnings_on,
)

__all__ = [
    "Drawing", "Looked", "RollFacts", "SheetLine", "SheetPage", "SheetRefused", "drawings_of",
    "heights_of", "limits_of", "look_at_part", "look_at_row", "look_at_sheet", "operations_at",
    "part_of", "sheet_from_rows", "sheet_of", "sheet_page", "sheets_of", "standing_stops",
    "stations_of", "stops_of", "tools_of", "warned_sheets", "warnings_of", "warnings_on",
    "with_parts",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing of a build sheet; ``svg`` is ready to stand in a page."""

    title: str
    svg: str


@dataclass(frozen=True, slots=True)
class RollFacts:
    """What the roll of a sheet comes out as."""

    shape: RollShape
    fill: CylinderFill

    @property
    def straw_litres(self) -> int:
        """Straw in the wrap, whole litres."""
        return round(litres(self.fill.straw_um3))

    @property
    def hay_litres(self) -> int:
        """Nest hay inside, whole litres."""
        return round(litres(self.fill.hay_um3))


@dataclass(frozen=True, slots=True)
class SheetLine:
    """One part of a sheet as drawn, with its row when the sheet still has it."""

    part: DrawnPart
    row: SheetPart | None


@dataclass(frozen=True, slots=True)
class SheetPage:
    """Everything the page of a build sheet shows; no lines when nothing can be drawn."""

    row: BuildSheet
    lines: list[SheetLine]
    warnings: list[SheetWarning]
    drawings: list[Drawing]
    heights: tuple[HeightSetting, ...]
    roll: RollFacts | None
    operations: list[Operation]
    revisions: list[BuildSheet]
    compared: Compared | None = None

    @property
    def replaces_one(self) -> bool:
        """Whether it is in force in the place of a revision that was built from."""
        others = [row for row in self.revisions if row.status == BuildSheet.Status.SUPERSEDED]
        return self.row.status == BuildSheet.Status.IN_FORCE and bool(others)


@dataclass(frozen=True, slots=True)
class Looked:
    """What the checks say of something not yet kept, and its drawings.

    ``checked`` names what was looked at, when that is less than a whole sheet.
    """

    warnings: list[SheetWarning]
    drawings: list[Drawing]
    checked: str = ""


def look_at_row(part: Part) -> Looked:
    """A part as it is kept, alone: its warnings and its drawing (one query)."""
    shop = part.shop
    try:
        drawn = part_of(part)
    except ValueError as refused:
        return Looked([SheetWarning("part", f"Nothing can be drawn yet: {refused}.")], [])
    # A sheet of one part: enough for the checks of holes, bends and stock.
    sheet = Sheet(name="part", drawing_number="part", revision="part", parts=(drawn,))
    warnings = warnings_on(sheet, rules_of(shop), shop.length_units)
    drawing = Drawing(part.name, draw_part(drawn, shop.length_units))
    return Looked(warnings, [drawing], "holes, bends, length of the stock")


def look_at_part(shop: Shop, fields: Mapping[str, Any]) -> Looked:
    """A part as somebody types it; nothing is kept (one query)."""
    return look_at_row(Part(shop=shop, **fields))


def look_at_sheet(row: BuildSheet, **fields: Any) -> Looked:
    """A draft with those fields changed; nothing is kept (one query)."""
    for name, value in fields.items():
        setattr(row, name, value)
    warnings = warnings_of(row, rules_of(row.shop))
    try:
        sheet = sheet_of(row)
    except SheetRefused:
        return Looked(warnings, [])
    whole = len(sheet.parts)
    drawings = drawings_of(sheet, row.shop.length_units)
    # Without the parts, which come last: somebody who edits the sheet does not change them.
    return Looked(warnings, drawings[:-whole] if whole else drawings)


ALL = Q()


def stations_of(shop: Shop) -> QuerySet[Station]:
    """The stations with room, tools and prerequisites: three queries; may be empty."""
    return (
        Station.objects.filter(shop=shop)
        .select_related("room")
        .prefetch_related("tools", "prerequisites")
        .annotate(operation_count=Count("operations", filter=Q(operations__is_in_use=True)))
        .order_by("sequence", "name")  # counting drops the order of the model
    )


def tools_of(shop: Shop, *, only: Q = ALL) -> list[Inspected]:
    """The tools and how they stand to inspection, those out of service first: three queries."""
    rules, today = rules_of(shop), timezone.now().astimezone(shop.zone).date()
    rows = Tool.objects.filter(only, shop=shop).prefetch_related("stations")
    return [
        inspection_of(tool, {station.kind for station in tool.stations.all()}, rules, today)
        for tool in rows.order_by("-out_of_service", "name")
    ]


def inspections_of(shop: Shop, stations: Iterable[Station]) -> dict[int, Inspected]:
    """Tool -> how it stands today, of the tools of those stations: one query."""
    today = timezone.now().astimezone(shop.zone).date()
    return inspections_at(stations, rules_of(shop), today)


def operations_at(station: Station) -> QuerySet[Operation]:
    """What is made at a station, in the order of work, with what each takes: two queries."""
    return (
        station.operations.filter(is_in_use=True)
        .select_related("recipe__output", "part", "sheet")
        .prefetch_related("recipe__lines__item")
    )


def sheets_of(shop: Shop) -> QuerySet[BuildSheet]:
    """All revisions with their parts, latest first in each drawing: two queries."""
    return with_parts(BuildSheet.objects.filter(shop=shop)).select_related("shop", "set_item")


def with_parts(rows: QuerySet[BuildSheet]) -> QuerySet[BuildSheet]:
    """The sheets with everything ``translate.sheet_of`` reads: one query more."""
    lines = SheetPart.objects.select_related("part__item", "part__stock")
    return rows.prefetch_related(Prefetch("sheet_parts", lines))


def sheet_page(row: BuildSheet) -> SheetPage:
    """A build sheet of ``sheets_of`` with drawings, warnings and revisions: three queries."""
    rules, units = rules_of(row.shop), row.shop.length_units
    try:
        sheet: Sheet | None = sheet_of(row)
    except SheetRefused:
        sheet = None
    family = BuildSheet.objects.filter(shop_id=row.shop_id, drawing_number=row.drawing_number)
    revisions = list(family)
    return SheetPage(
        row=row,
        lines=_lines(row, sheet) if sheet else [],
        warnings=warnings_of(row, rules),
        drawings=drawings_of(sheet, units) if sheet else [],
        heights=heights_of(sheet) if sheet else (),
        roll=RollFacts(shape_of(sheet.roll), fill_of(sheet.roll)) if sheet and sheet.roll else None,
        operations=list(_operations_of(row)),
        revisions=revisions,
        compared=compared(row, sheet, revisions, units) if sheet else None,
    )


def drawings_of(sheet: Sheet, units: Units) -> list[Drawing]:
    """The set, the head, the roll and each part, as far as the sheet has them."""
    drawings = [Drawing("The whole set", draw_set(sheet, units))] if sheet.parts else []
    if head_of(sheet):
        drawings.append(Drawing("The head", draw_head(sheet, units)))
    if sheet.roll:
        drawings.append(Drawing("The roll, from its end", draw_roll_section(sheet.roll, units)))
    return [*drawings, *(Drawing(part.name, draw_part(part, units)) for part in sheet.parts)]


def heights_of(sheet: Sheet) -> tuple[HeightSetting, ...]:
    """The heights that the pin gives, lowest first; none without a fit."""
    if sheet.fit is None:
        return ()
    return height_settings(sheet.part(sheet.fit.inner), sheet.part(sheet.fit.outer))


def warned_sheets(rows: QuerySet[BuildSheet], rules: Rules) -> list[tuple[BuildSheet, int]]:
    """Each sheet with the number of its warnings. No query beyond the rows."""
    return [(row, len(warnings_of(row, rules))) for row in rows]


def _lines(row: BuildSheet, sheet: Sheet) -> list[SheetLine]:
    # By item: a frozen sheet has its parts by value, and their rows may be gone.
    rows = {line.part.item.slug: line for line in row.sheet_parts.all()}
    return [SheetLine(part, rows.get(part.item)) for part in sheet.parts]


def _operations_of(row: BuildSheet) -> QuerySet[Operation]:
    items = [line.part.item_id for line in row.sheet_parts.all()]
    made = Q(sheet=row) | Q(part__item__in=items) | Q(recipe__output=row.set_item_id)
    return (
        Operation.objects.filter(made, shop_id=row.shop_id, is_in_use=True)
        .select_related("station", "recipe__output")
        # A part may be on the sheet and its operation name the sheet as well.
        .distinct()
    )
