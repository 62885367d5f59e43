"""The hot-work permit on one side: as it stands, with empty lines for a pen."""

from __future__ import annotations

from datetime import datetime

from django.template.loader import render_to_string
from django.utils import timezone

from workshops.common.pdf import Pdf, pdf_of_sheets
from workshops.nights.models import Night
from workshops.nights.permit.queries import hot_work_of
from workshops.paper.printing import dated, page_of

SPARK_LINES, TURN_LINES = 3, 3


def print_permit(night: Night, at: datetime) -> Pdf:
    """One page for the binder, blank where nothing is written yet."""
    shown = dated(night.shop, at) | {
        "night": night, "hot": hot_work_of(night), "spark_lines": range(SPARK_LINES),
        "turn_lines": range(TURN_LINES),
    }  # fmt: skip
    # The clock times of a permit are the shop's, whoever has it printed.
    with timezone.override(night.shop.zone):
        page = render_to_string("paper/permit_sheet.html", shown)
    return pdf_of_sheets([[page]], css=render_to_string("paper/_sheet.css", page_of(night.shop)))
