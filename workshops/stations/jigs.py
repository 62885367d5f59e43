"""Files for whoever makes a jig or bends by a template, each stamped with its drawing."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from django.template.loader import render_to_string
from django.utils import formats
from django.utils.text import slugify

from inventory.places.models import Shop
from workshops.common.pdf import pdf_from_html
from workshops.stations.drawing.stamp import Stamp
from workshops.stations.drawing.template import draw_template
from workshops.stations.drawing.tiles import Paper
from workshops.stations.geometry.parts import Part
from workshops.stations.models import BuildSheet
from workshops.stations.translate import SheetRefused, sheet_of

PAPERS = {
    Shop.PaperSize.LETTER.value: Paper(215.9, 279.4),
    Shop.PaperSize.A4.value: Paper(210, 297),
}
_WARNINGS = {
    BuildSheet.Status.DRAFT.value: "DRAFT: not to be built from",
    BuildSheet.Status.SUPERSEDED.value: "SUPERSEDED: do not build from this drawing",
}


def stamp_of(row: BuildSheet) -> Stamp:
    """What is written on everything made from this revision. No query."""
    state = row.get_status_display()
    if row.status == BuildSheet.Status.IN_FORCE and row.in_force_from:
        state += f" from {formats.date_format(row.in_force_from, 'j M Y')}"
    drawing = f"Drawing {row.drawing_number} rev {row.revision}"
    return Stamp(drawing, state, _WARNINGS.get(row.status, ""))


def drawn_part(row: BuildSheet, item: str) -> Part | None:
    """The part of that item as this revision has it; ``None`` where there is none to draw.

    One query for a draft whose parts are not prefetched.
    """
    try:
        return sheet_of(row).part(item)
    except (KeyError, SheetRefused):
        return None


def file_name(row: BuildSheet, part: Part, kind: str) -> str:
    """What the file is called: ``nc-31-rev-c-stem-superseded.dxf``, never without its state."""
    state = "" if row.status == BuildSheet.Status.IN_FORCE else row.get_status_display()
    stem = slugify(f"{row.drawing_number} rev {row.revision} {part.item} {state}")
    return f"{stem}.{kind}"


def print_template(row: BuildSheet, part: Part, at: datetime) -> bytes:
    """The bend template at true size as a PDF for the shop's paper. No query.

    Raises
    ------
    ValueError
        When the part has no bend.
    PaperRefused
        When this machine cannot make PDFs.
    """
    shop = row.shop
    printed = formats.date_format(at.astimezone(shop.zone), "j M Y H:i")
    stamp = replace(stamp_of(row), printed=f"printed {printed}")
    paper = PAPERS[shop.paper_size]
    sheets, lies = draw_template(part, stamp, shop.length_units, paper)
    context = {"shop": shop, "part": part, "stamp": stamp, "sheets": sheets, "paper": lies}
    return pdf_from_html(render_to_string("stations/template_paper.html", context))
