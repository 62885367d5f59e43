"""What happened, as far as somebody may see it."""

from __future__ import annotations

from collections.abc import Collection

from django.db.models import QuerySet

from inventory.places.models import Shop
from workshops.access.permissions import Permission
from workshops.nights.models import Night
from workshops.stations.models import Station, StationStop, Tool
from workshops.stations.queries import stops_of
from workshops.trouble.models import Trouble


def troubles_of(shop: Shop, may: Collection[str]) -> QuerySet[Trouble]:
    """What happened in the shop, the latest first. 1 query.

    Injuries are left out for whoever may not see what is private: they are nobody's business
    but the coordinator's and the duty leads'.
    """
    rows = Trouble.objects.filter(shop=shop).select_related("night", "station", "stop", "tool")
    if Permission.SEE_PRIVATE not in may:
        rows = rows.exclude(kind=Trouble.Kind.HURT)
    return rows


def troubles_on(night: Night, may: Collection[str]) -> QuerySet[Trouble]:
    """The same of one night. 1 query."""
    return troubles_of(night.shop, may).filter(night=night)


def one_trouble(shop: Shop, pk: int, may: Collection[str]) -> Trouble | None:
    """One of them with everything its page shows, or ``None``. 4 queries."""
    rows = troubles_of(shop, may).select_related("shop", "stop__shop", "stop__station")
    return rows.prefetch_related("people", "additions", "stood").filter(pk=pk).first()


def closed_stations(night: Night) -> list[StationStop]:
    """Stations that are closed on the night. 1 query."""
    return [stop for stop in stops_of(night.shop) if stop.holds_on(night.date)]


def stations_in_use(shop: Shop) -> QuerySet[Station]:
    """Where something can happen. 1 query."""
    return Station.objects.filter(shop=shop, is_in_use=True)


def tools_in_service(shop: Shop) -> QuerySet[Tool]:
    """Tools that may break. 1 query."""
    return Tool.objects.filter(shop=shop)
