"""The blank incident sheet for the binder: what the page asks, on paper, for when nothing runs."""

from __future__ import annotations

from datetime import datetime

from django.template.loader import render_to_string

from inventory.places.models import Shop
from workshops.common.pdf import Pdf, pdf_of_sheets
from workshops.paper.printing import dated, page_of
from workshops.trouble.models import Trouble
from workshops.trouble.queries import stations_in_use

LINES = 5


def print_trouble_sheet(shop: Shop, at: datetime) -> Pdf:
    """One page, in the order in which the site's own page asks."""
    shown = dated(shop, at) | {
        "kinds": [label for _, label in Trouble.Kind.choices],
        "stations": stations_in_use(shop),
        "lines": range(LINES),
    }
    page = render_to_string("paper/trouble_sheet.html", shown)
    return pdf_of_sheets([[page]], css=render_to_string("paper/_sheet.css", page_of(shop)))
