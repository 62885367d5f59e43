"""Cut lists as pages: every metal after the other, every stick to scale with boxes to tick."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.template.loader import render_to_string

from inventory.cutting.models import CutListRun
from inventory.cutting.progress import progress_of
from inventory.cutting.queries import CutList, cut_list_of
from inventory.measures.lengths import Units, spell_length
from workshops.common.pdf import Pdf, pdf_of_sheets
from workshops.paper.printing import dated, page_of
from workshops.stations.cautions import DEFER
from workshops.stock.drawing import DrawnStrip, draw, lettered

BOXES_IN_A_ROW = 30
MARK_ROOM = 12  # a character of a mark, of a thousand across the sheet


@dataclass(frozen=True, slots=True)
class Metal:
    """The cut list of one metal, in the shop's units."""

    name: str
    made_at: datetime
    kerf: str
    pieces: list[tuple[str, str, str, int]]
    strips: list[tuple[DrawnStrip, str, int]]
    told: CutList


def print_cut_lists(runs: Sequence[CutListRun], at: datetime) -> Pdf:
    """The lists as one PDF; as many pages as the sticks take."""
    shop, keys = runs[0].shop, sorted({run.night_key for run in runs})
    context: dict[str, Any] = dated(shop, at) | {
        "metals": [metal_of(run, shop.length_units) for run in runs],
        "nights": [date.fromisoformat(key) for key in keys if key],
        "defer": DEFER,
    }
    styles = render_to_string("paper/_sheet.css", page_of(shop))
    return pdf_of_sheets([[render_to_string("paper/cut_list.html", context)]], css=styles)


def metal_of(run: CutListRun, units: Units) -> Metal:
    """One run as it is printed."""
    told = cut_list_of(run)
    return Metal(
        name=run.item.name,
        made_at=run.made_at.astimezone(run.shop.zone).replace(tzinfo=None),
        kerf=spell_length(run.problem["kerf"], units) if run.problem["kerf"] else "",
        pieces=[
            (letter, label, spell_length(length, units), count)
            for letter, label, length, count in lettered(told)
        ],
        strips=[
            (strip, *boxes(strip.strip.times, ticked.done))
            for strip, ticked in zip(
                draw(told, units, mark_room=MARK_ROOM), progress_of(run).patterns, strict=True
            )
        ],
        told=told,
    )


def boxes(times: int, done: int = 0) -> tuple[str, int]:
    """A box for each stick as an SVG path in tenths of a millimetre, and its height in millimetres.

    Every fifth stands a little apart, so that they are counted by fives; those that were
    ticked on the page already are crossed.
    """
    side, gap, apart = 50, 10, 22
    drawn = []
    for n in range(times):
        row, column = divmod(n, BOXES_IN_A_ROW)
        x, y = 3 + column * (side + gap) + column // 5 * apart, 3 + row * (side + gap)
        drawn.append(f"M{x} {y}h{side}v{side}h-{side}z")
        if n < done:
            drawn.append(f"l{side} {side}m-{side} 0l{side} -{side}")
    return "".join(drawn), -(-times // BOXES_IN_A_ROW) * (side + gap) // 10
