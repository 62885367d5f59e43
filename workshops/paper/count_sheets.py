"""Count sheets as pages: a place a sheet, the first count on one and the second on another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.template.loader import render_to_string

from inventory.measures.lengths import spell_length
from inventory.stocktake.models import CountLine, CountSheet, Stocktake, Turn
from inventory.stocktake.queries import lines_for, progress_of
from workshops.common.pdf import Pdf, pdf_of_sheets
from workshops.paper.printing import dated, page_of
from workshops.stock.cut_off import cut_off_of

BLANK_ROWS = 6
TALL_MM = 10  # a row that a gloved hand can write in


@dataclass(frozen=True, slots=True)
class PrintedRow:
    """One thing to count, as it stands on the paper: never with a number."""

    name: str
    length: str
    unit: str
    is_held: bool
    is_same_item: bool


def print_count_sheets(stocktake: Stocktake, at: datetime) -> Pdf:
    """All first counts, then all second ones, to be handed to two people.

    A place that is posted already is left out; the caller sees to it that one is left.
    """
    every = [progress.sheet for progress in progress_of(stocktake)]
    sheets = [sheet for sheet in every if not sheet.posted_at]
    shared = dated(stocktake.shop, at) | {
        "stocktake": stocktake,
        # As of the printing: on the day of the count the nights may be entered long since.
        "notices": cut_off_of(stocktake.shop, at, {sheet.place_id for sheet in every}),
        "blank_rows": range(BLANK_ROWS),
        "tall_mm": TALL_MM,
    }
    pages = [
        [render_to_string("paper/count_sheet.html", shared | _shown(sheet, turn))]
        for turn in (Turn.FIRST, Turn.SECOND)
        for sheet in sheets
    ]
    return pdf_of_sheets(pages, css=render_to_string("paper/_sheet.css", page_of(stocktake.shop)))


def _shown(sheet: CountSheet, turn: Turn) -> dict[str, object]:
    return {"sheet": sheet, "turn": turn, "rows": rows_of(lines_for(sheet, turn))}


def rows_of(lines: Sequence[CountLine]) -> list[PrintedRow]:
    """The lines as they are printed: an item is named once over its lengths."""
    before = [None, *(line.item_id for line in lines)]
    return [
        PrintedRow(
            name=line.item.name,
            length=spell_length(line.length_um, line.item.shop.length_units)
            if line.length_um else "",
            unit="pieces" if line.item.is_by_length else line.item.unit,
            is_held=line.condition == "hold",
            is_same_item=line.item_id == last,
        )
        for line, last in zip(lines, before, strict=False)
    ]  # fmt: skip
