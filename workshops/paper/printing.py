"""Cards as pages: every card in the layouts that may hold it, for the PDF to choose from."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import chain
from typing import Any

from django.template.loader import render_to_string

from inventory.places.models import Shop
from workshops.common.pdf import Pdf, pdf_of_sheets
from workshops.nights.models import Night
from workshops.paper.backs import IN_A_ROW, backs
from workshops.paper.cards import USUAL, Card, Wear
from workshops.paper.fitting import layouts
from workshops.paper.layout import FORMATS, MARGINS_MM, Layout, Size
from workshops.stations.cautions import DEFER


def print_cards(night: Night, cards: Sequence[Card], at: datetime, *, back: str = "") -> Pdf:
    """The cards as one PDF, one page each; two where ``back`` names a second language."""
    styles = render_to_string("paper/_cards.css", page_of(night.shop))
    shared = dated(night.shop, at) | {"night": night, "defer": DEFER, "usual": USUAL}
    sides = 2 if back else 1
    shared |= {"m": len(cards) * sides}
    fronts = (_ways(card, shared | {"n": 1 + n * sides}) for n, card in enumerate(cards))
    if not back:
        return pdf_of_sheets(fronts, css=styles)
    behind = (back_ways(card, back, shared | {"n": 2 + n * 2}) for n, card in enumerate(cards))
    return pdf_of_sheets(chain.from_iterable(zip(fronts, behind, strict=True)), css=styles)


def page_of(shop: Shop) -> dict[str, Any]:
    """Page size and margins of a shop's paper, for the styles."""
    margins = " ".join(f"{side}mm" for side in MARGINS_MM)
    return {"page_size": FORMATS[Shop.PaperSize(shop.paper_size)].name, "margins": margins}


def dated(shop: Shop, at: datetime) -> dict[str, Any]:
    """Shop and print time, by the clock on the shop's own wall whoever prints."""
    return {"shop": shop, "printed_at": at.astimezone(shop.zone).replace(tzinfo=None)}


def _ways(card: Card, context: dict[str, Any]) -> Iterator[str]:
    paper = FORMATS[Shop.PaperSize(context["shop"].paper_size)]
    for layout in layouts(card, paper):
        yield render_to_string("paper/card.html", context | _shown(card, layout))


def back_ways(card: Card, code: str, context: dict[str, Any]) -> Iterator[str]:
    """The back of a card, in that language."""

    def pictures(said: dict[str, Any], size: Size) -> dict[str, Any]:
        return {
            "mark": as_picture(card.mark),
            "title_points": size.title_points(card.station.name),
            "wear_rows": _worn(said["worn"], IN_A_ROW),
            "never_rows": _worn(said["unworn"], IN_A_ROW),
            "page_words": said["page"].format(n=context["n"], m=context["m"]),
        }

    return backs(card, code, context, pictures)


def _shown(card: Card, layout: Layout) -> dict[str, Any]:
    """The card as the template lays it out."""
    return {
        "card": card,
        "layout": layout,
        "size": layout.size,
        "title_points": layout.size.title_points(card.station.name),
        "wear": layout.wear.value,
        "check": layout.check.value,
        "care": layout.care.value,
        "mark": as_picture(card.mark),
        "drawing": as_picture(card.drawing),
        "drawing_tall_mm": card.drawing_ratio * layout.size.drawing_mm,
        "wear_rows": _worn(card.wear, layout.wear_in_a_row),
        "never_rows": _worn(card.never, layout.never_in_a_row),
    }


def _worn(worn: Sequence[Wear], many: int) -> list[list[tuple[str, str]]]:
    """Rows of word and picture."""
    pairs = [(each.word, as_picture(each.picture)) for each in worn]
    return [pairs[start : start + many] for start in range(0, len(pairs), many)]


def as_picture(svg: str) -> str:
    """The address of a drawing that carries the drawing itself.

    Inline in the page, every line of it would be styled like a paragraph, which takes a
    third of the time a card takes.
    """
    coded = b64encode(svg.encode()).decode()
    return f"data:image/svg+xml;base64,{coded}" if svg else ""
