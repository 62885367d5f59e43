"""What the paper page needs."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from django.db.models import QuerySet

from inventory.cutting.models import CutListRun
from inventory.cutting.queries import cut_lists_of, in_use
from inventory.places.models import Shop
from workshops.nights.models import Night
from workshops.paper.models import Paper
from workshops.season.models import OutlookRun
from workshops.season.queries import latest_outlook, winter_of


def papers_of(shop: Shop) -> QuerySet[Paper]:
    """Papers made so far, newest first. 1 query; empty before the first."""
    return Paper.objects.filter(shop=shop).select_related("night").order_by("-made_at", "-pk")


def cut_lists_for(shop: Shop, night: Night | None) -> list[CutListRun]:
    """What a night is cut by: each metal, sheared and sawn apart, by name. 1 query.

    Empty without a night.
    """
    return in_use(shop, night.date.isoformat()) if night else []


def cut_lists_chosen(shop: Shop, chosen: Iterable[int]) -> list[CutListRun]:
    """These lists of the shop, by metal and kerf. 1 query; others' lists are left out."""
    runs = cut_lists_of(shop).filter(pk__in=list(chosen))
    return sorted(runs, key=lambda run: (run.item.name, run.problem["kerf"], run.pk))


def outlook_for(shop: Shop, on: date) -> OutlookRun | None:
    """The latest outlook of the winter of a day, if one was worked out. 2 queries."""
    winter = winter_of(shop, on)
    return latest_outlook(winter) if winter else None
