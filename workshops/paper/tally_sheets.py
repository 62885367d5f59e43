"""The tally sheet of a night: boxes for tens and ones, as the page has buttons, and a number."""

from __future__ import annotations

from datetime import datetime

from django.template.loader import render_to_string

from workshops.common.pdf import Pdf, pdf_of_sheets
from workshops.counting.models import PaperSheet
from workshops.nights.queries import counts_by_station
from workshops.paper.printing import dated, page_of

TENS, ONES, FEW = 10, 10, 5  # boxes for good tens and ones, and for hold and scrap


def print_tally_sheet(sheet: PaperSheet, at: datetime) -> Pdf:
    """One sheet: every station that opens tonight, all of them before anybody is placed."""
    groups = counts_by_station(sheet.night)
    shared = dated(sheet.shop, at) | {
        "sheet": sheet,
        "groups": [group for group in groups if group.is_open] or groups,
        "tens": range(10, 10 * TENS + 1, 10),
        "ones": range(1, ONES + 1),
        "few": range(FEW),
    }
    page = render_to_string("paper/tally_sheet.html", shared)
    return pdf_of_sheets([[page]], css=render_to_string("paper/_sheet.css", page_of(sheet.shop)))
