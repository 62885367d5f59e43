"""What the pages of stations and build sheets read."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Count, Q, QuerySet

from inventory.measures.lengths import Units
from inventory.places.models import Shop
from workshops.club.queries import Rules, rules_of
from workshops.stations.drawing.head import draw_head
from workshops.stations.drawing.head_view import head_of
from workshops.stations.drawing.parts import draw_part
from workshops.stations.drawing.roll_section import draw_roll_section
from workshops.stations.drawing.set_view import draw_set
from workshops.stations.geometry.fit import HeightSetting, height_settings
from workshops.stations.geometry.roll import RollShape, shape_of
from workshops.stations.geometry.sheet import Sheet
from workshops.stations.geometry.volumes import CylinderFill, fill_of, litres
from workshops.stations.geometry.warned import SheetWarning
from workshops.stations.models import BuildSheet, Operation, Station, Tool
from workshops.stations.translate import SheetRefused, sheet_of, warnings_of


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
class SheetPage:
    """Everything the page of a build sheet shows; ``sheet`` is none when nothing can be drawn."""

    row: BuildSheet
    sheet: Sheet | None
    warnings: list[SheetWarning]
    drawings: list[Drawing]
    heights: tuple[HeightSetting, ...]
    roll: RollFacts | None
    operations: list[Operation]
    revisions: list[BuildSheet]


def stations_of(shop: Shop) -> QuerySet[Station]:
    """The stations with room, tools and prerequisites: three queries; may be empty."""
    return (
        Station.objects.filter(shop=shop)
        .select_related("room")
        .prefetch_related("tools", "prerequisites")
        .annotate(operation_count=Count("operations", filter=Q(operations__is_in_use=True)))
    )


def tools_of(shop: Shop) -> QuerySet[Tool]:
    """The tools with their stations, those out of service first: two queries."""
    return (
        Tool.objects.filter(shop=shop)
        .prefetch_related("stations")
        .order_by("-out_of_service", "name")
    )


def operations_at(station: Station) -> QuerySet[Operation]:
    """What is made at a station, in the order of work, with what each takes: two queries."""
    return (
        station.operations.filter(is_in_use=True)
        .select_related("recipe__output", "part", "sheet")
        .prefetch_related("recipe__lines__item")
    )


def sheets_of(shop: Shop) -> QuerySet[BuildSheet]:
    """All revisions with their parts, latest first in each drawing: two queries."""
    return with_parts(BuildSheet.objects.filter(shop=shop)).select_related("set_item")


def with_parts(rows: QuerySet[BuildSheet]) -> QuerySet[BuildSheet]:
    """The sheets with everything ``translate.sheet_of`` reads: one query more."""
    return rows.prefetch_related("sheet_parts__part__item", "sheet_parts__part__stock")


def sheet_page(row: BuildSheet) -> SheetPage:
    """A build sheet with drawings, warnings and revisions: nine queries."""
    rules, units = rules_of(row.shop), row.shop.length_units
    try:
        sheet: Sheet | None = sheet_of(row)
    except SheetRefused:
        sheet = None
    return SheetPage(
        row=row,
        sheet=sheet,
        warnings=warnings_of(row, rules),
        drawings=drawings_of(sheet, units) if sheet else [],
        heights=heights_of(sheet) if sheet else (),
        roll=RollFacts(shape_of(sheet.roll), fill_of(sheet.roll)) if sheet and sheet.roll else None,
        operations=list(_operations_of(row)),
        revisions=list(
            BuildSheet.objects.filter(shop_id=row.shop_id, drawing_number=row.drawing_number)
        ),
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


def _operations_of(row: BuildSheet) -> QuerySet[Operation]:
    items = [line.part.item_id for line in row.sheet_parts.all()]
    made = Q(sheet=row) | Q(part__item__in=items) | Q(recipe__output=row.set_item_id)
    return (
        Operation.objects.filter(made, shop_id=row.shop_id, is_in_use=True)
        .select_related("station", "recipe__output")
        .distinct()
    )
