"""The outlook of the winter on one page: its picture, and what it says in words."""

from __future__ import annotations

from datetime import datetime

from django.template.loader import render_to_string

from workshops.common.pdf import Pdf, pdf_of_sheets
from workshops.paper.printing import dated, page_of
from workshops.season.models import OutlookRun
from workshops.season.showing import drawn, stored


def print_outlook(run: OutlookRun, at: datetime) -> Pdf:
    """Picture and sentences as a PDF; the words get smaller before there is a second page."""
    outlook, shop = stored(run), run.shop
    context = dated(shop, at) | {
        "picture": drawn(outlook),
        "sentences": outlook.explain(),
        "assumptions": outlook.assumptions,
        "winters": outlook.winters,
        "worked_out_at": run.made_at.astimezone(shop.zone).replace(tzinfo=None),
    }
    ways = (
        render_to_string("paper/outlook.html", context | {"points": points})
        for points in (14, 13, 12, 11, 10, 9)
    )
    return pdf_of_sheets([ways], css=render_to_string("paper/_sheet.css", page_of(shop)))
