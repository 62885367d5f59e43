"""Labels on sheets: a grid with lines to cut along, which can begin on a part-used sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from typing import Any

import segno
from django.template.loader import render_to_string

from inventory.places.models import Shop
from workshops.common.pdf import Pdf, pdf_of_sheets
from workshops.paper.labels import Label
from workshops.paper.printing import as_picture, dated

PAPERS_MM = {Shop.PaperSize.LETTER: ("letter", 215.9, 279.4), Shop.PaperSize.A4: ("A4", 210, 297)}
MARGIN_MM = 9.0  # what office printers leave white
POINT_MM = 0.3528
# Bold letters of the heading face are about this wide for their height, capitals included.
LETTER_WIDE = 0.57
LINE_TALL = 1.08


@dataclass(frozen=True, slots=True)
class LabelSize:
    """One size of label, millimetres; the sizes of the words, points."""

    key: str
    says: str
    wide_mm: float
    tall_mm: float
    largest: int
    smallest: int
    small: float
    room_mm: float  # height kept for the lines below the name

    @property
    def mark_mm(self) -> float:
        """Side of the square mark: no larger than a phone at arm's length asks for."""
        return min(self.inside_mm, 50.0)

    @property
    def inside_mm(self) -> float:
        """Height between the cut lines, less a little air."""
        return self.tall_mm - 4

    @property
    def words_mm(self) -> float:
        """Width left for words beside the mark."""
        return self.wide_mm - self.mark_mm - 7

    def points_for(self, name: str) -> int:
        """The largest size at which the name fits its room, words kept whole."""
        for points in range(self.largest, self.smallest, -1):
            letters = int(self.words_mm / (points * POINT_MM * LETTER_WIDE))
            lines = _lines(name, letters)
            tall = lines * points * POINT_MM * LINE_TALL
            if lines and tall <= self.inside_mm - self.room_mm:
                return points
        return self.smallest


SIZES = {
    size.key: size
    for size in (
        LabelSize("bin", "95 × 50 mm, for bins and drawers", 95, 50, 30, 12, 10.5, 14),
        LabelSize("rack", "190 × 84 mm, for racks, read from across the room", 190, 84, 64, 24, 18,
                  24),
        LabelSize("drop", "63 × 29 mm, for drops and small boxes", 63, 29, 20, 9, 9, 8.5),
    )
}  # fmt: skip


def _lines(name: str, letters: int) -> int:
    """How many lines the words take at so many letters a line; 0 when one word is wider."""
    lines, used = 1, 0
    for word in name.split(" "):
        if len(word) > letters:
            return 0
        if used and used + 1 + len(word) > letters:
            lines, used = lines + 1, 0
        used += len(word) + (1 if used else 0)
    return lines


@dataclass(frozen=True, slots=True)
class Grid:
    """How labels of a size stand on a paper."""

    size: LabelSize
    page: str
    columns: int
    rows: int
    left_mm: float
    top_mm: float

    @property
    def on_a_sheet(self) -> int:
        """Labels on one sheet."""
        return self.columns * self.rows

    def spot(self, number: int) -> tuple[float, float]:
        """From the left and from the top of the sheet to label ``number``, from 0 on."""
        row, column = divmod(number % self.on_a_sheet, self.columns)
        return (
            round(self.left_mm + column * self.size.wide_mm, 2),
            round(self.top_mm + row * self.size.tall_mm, 2),
        )


def grid_of(size: LabelSize, paper: str) -> Grid:
    """As many labels as fit between the margins, in the middle of the sheet."""
    page, wide, tall = PAPERS_MM[Shop.PaperSize(paper)]
    columns = int((wide - 2 * MARGIN_MM) // size.wide_mm)
    rows = int((tall - 2 * MARGIN_MM) // size.tall_mm)
    left = (wide - columns * size.wide_mm) / 2
    return Grid(size, page, columns, rows, left, (tall - rows * size.tall_mm) / 2)


def print_labels(
    shop: Shop, labels: Sequence[Label], *, size: LabelSize, start: int, at: datetime
) -> Pdf:
    """The labels as one PDF; the first stands at label ``start`` of its sheet, from 1 on."""
    grid = grid_of(size, shop.paper_size)
    pages: list[list[dict[str, Any]]] = []
    for number, label in enumerate(labels, start=start - 1):
        if not pages or number % grid.on_a_sheet == 0:
            pages.append([])
        pages[-1].append(_shown(label, grid, number))
    context = dated(shop, at) | {"pages": pages, "size": size}
    styles = render_to_string("paper/_labels.css", {"grid": grid, "size": size})
    return pdf_of_sheets([[render_to_string("paper/labels_sheet.html", context)]], css=styles)


def _shown(label: Label, grid: Grid, number: int) -> dict[str, Any]:
    left, top = grid.spot(number)
    return {
        "label": label,
        "left": left,
        "top": top,
        "points": grid.size.points_for(label.title),
        "qr": as_picture(qr_of(label.address)),
        "mark": as_picture(label.mark),
    }


def qr_of(address: str) -> str:
    """The address as a QR mark, an SVG with the white edge that readers ask for."""
    drawn = BytesIO()
    # "m" mends a seventh of the mark: enough for a scratch, and fewer, larger squares than more.
    segno.make(address, error="m", micro=False).save(
        drawn, kind="svg", border=4, xmldecl=False, omitsize=True
    )
    return drawn.getvalue().decode()
