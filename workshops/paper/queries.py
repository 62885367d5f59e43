"""What the paper page needs."""

from __future__ import annotations

from datetime import date

from django.db.models import QuerySet

from inventory.cutting.models import CutListRun
from inventory.cutting.queries import cut_lists_of
from inventory.places.models import Shop
from workshops.nights.models import Night
from workshops.paper.models import Paper
from workshops.season.models import OutlookRun
from workshops.season.queries import latest_outlook, winter_of


def papers_of(shop: Shop) -> QuerySet[Paper]:
    """Papers made so far, newest first. 1 query; empty before the first."""
    return Paper.objects.filter(shop=shop).select_related("night").order_by("-made_at", "-pk")


def cut_lists_for(shop: Shop, night: Night | None) -> list[CutListRun]:
    """The latest cut list of each metal for a night, by name. 1 query; empty without a night."""
    if night is None:
        return []
    latest: dict[int, CutListRun] = {}
    for run in cut_lists_of(shop, night.date.isoformat()).order_by("-made_at", "-pk"):
        latest.setdefault(run.item_id, run)
    return sorted(latest.values(), key=lambda run: run.item.name)


def outlook_for(shop: Shop, on: date) -> OutlookRun | None:
    """The latest outlook of the winter of a day, if one was worked out. 2 queries."""
    winter = winter_of(shop, on)
    return latest_outlook(winter) if winter else None
