"""Closing a station because something happened, and opening it again by name."""

from __future__ import annotations

from datetime import date, datetime
from uuid import UUID, uuid4

from django.db import transaction
from django.db.models import Prefetch, QuerySet

from inventory.places.models import Shop
from workshops.stations.models import Station, StationStop
from workshops.stations.refusals import StationsRefused


def stops_of(shop: Shop) -> QuerySet[StationStop]:
    """Stations closed by somebody and not reopened, the latest first. 1 query."""
    rows = StationStop.objects.filter(shop=shop, reopened_at=None)
    return rows.select_related("station", "shop")


def standing_stops() -> Prefetch[str]:
    """To load stations with what closes them, so that ``stopped_on`` asks nothing. 1 query."""
    standing = StationStop.objects.filter(reopened_at=None).select_related("shop")
    return Prefetch("stops", standing)


@transaction.atomic
def stop_station(
    *,
    station: Station,
    reason: str,
    stopped_by: str,
    starts_on: date,
    ends_on: date | None = None,
    at: datetime,
    client_key: UUID | None = None,
) -> StationStop:
    """Close a station from a day on; sent again with its key, it is the same stop.

    Only the station is closed here: whoever keeps people at stations takes them away in the
    same transaction, as ``nights.actions.stop_work`` does.

    Raises
    ------
    StationsRefused
        Without a reason or a name, or when it would end before it begins.
    """
    key = client_key or uuid4()
    already = StationStop.objects.filter(shop=station.shop, client_key=key).first()
    if already is not None:
        return already
    if not reason.strip():
        raise StationsRefused("Reason: write in a few words why the station is closed.", "reason")
    if not stopped_by.strip():
        raise StationsRefused("Closed by: write who closes it.", "stopped_by")
    if ends_on is not None and ends_on < starts_on:
        raise StationsRefused("Until: that day is over.", "ends_on")
    return StationStop.objects.create(
        shop=station.shop, station=station, reason=reason.strip()[:200], starts_on=starts_on,
        ends_on=ends_on, stopped_by=stopped_by.strip()[:80], stopped_at=at, client_key=key,
    )  # fmt: skip


@transaction.atomic
def reopen_station(*, stop: StationStop, why: str, reopened_by: str, at: datetime) -> StationStop:
    """Open a station again; the stop stays written down with who reopened it, and why.

    Raises
    ------
    StationsRefused
        Without a reason or a name, or when it was reopened before.
    """
    row = StationStop.objects.select_for_update().get(pk=stop.pk)
    if row.reopened_at is not None:
        raise StationsRefused(f"{row.station} was reopened before, by {row.reopened_by}.")
    if not why.strip():
        raise StationsRefused("Reason: write what was looked at and mended.", "why")
    if not reopened_by.strip():
        raise StationsRefused("Reopened by: name the lead who reopens it.", "reopened_by")
    row.reopened_by, row.reopened_at = reopened_by.strip()[:80], at
    row.reopened_why = why.strip()[:200]
    row.save(update_fields=["reopened_by", "reopened_at", "reopened_why"])
    return row
