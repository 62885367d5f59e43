"""An inspection of a tool is written down: each is kept, and the last one counts."""

from __future__ import annotations

from datetime import date, datetime

from django.db import transaction

from workshops.access.models import User
from workshops.stations.models import Tool, ToolInspection
from workshops.stations.refusals import ToolRefused

MONTHS_MOST = 120


@transaction.atomic
def record_inspection(
    *,
    tool: Tool,
    on: date,
    inspected_by: str,
    found: str = "",
    months: int | None = None,
    by: User | None,
    at: datetime,
) -> ToolInspection:
    """Somebody looked at the tool that day; the next is due so many ``months`` later.

    Without ``months`` the club's rule for tools of that kind holds; 0 asks for no other.

    Raises
    ------
    ToolRefused
        When the day is to come, an inspection after it is on record, or nobody did it.
    """
    row = Tool.objects.select_for_update().select_related("shop").get(pk=tool.pk)
    if on > at.astimezone(row.shop.zone).date():
        raise ToolRefused("Inspected on: that day is still to come.", "on")
    if row.inspected_on and row.inspected_on > on:
        raise ToolRefused(f"Inspected on: {row.inspected_on} is on record, which is later.", "on")
    if not inspected_by.strip():
        raise ToolRefused("Inspected by: write who looked at it.", "inspected_by")
    if months is not None and not 0 <= months <= MONTHS_MOST:
        raise ToolRefused(f"Again after: 0 to {MONTHS_MOST} months.", "months")
    row.inspected_on, row.inspection_months = on, months
    row.changed_by, row.changed_at = by, at
    row.save()
    return ToolInspection.objects.create(
        shop=row.shop, tool=row, on=on, inspected_by=inspected_by.strip(), found=found.strip(),
        recorded_by=by, recorded_at=at,
    )  # fmt: skip
