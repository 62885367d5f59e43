"""Work stopped at a station tonight: closed for every path to it, and whoever stands there out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.db import transaction
from django.db.models import QuerySet

from workshops.nights.clock import minutes, minutes_of
from workshops.nights.models import Night, Placing
from workshops.nights.refusals import NightRefused
from workshops.people.actions import hold_register
from workshops.stations.actions import stop_station
from workshops.stations.models import Station, StationStop


@dataclass(frozen=True, slots=True)
class Stopped:
    """The stop, and the placings that were taken away, those of this minute among them."""

    stop: StationStop
    taken_out: tuple[Placing, ...]


@transaction.atomic
def stop_work(
    *,
    night: Night,
    station: Station,
    reason: str,
    stopped_by: str,
    at: datetime,
    tonight_only: bool = False,
    client_key: UUID | None = None,
) -> Stopped:
    """Close a station from this night on, and take out whoever is still to stand there.

    What is over stays as it was: who worked there until now is a record. It holds for this
    night alone, or until a lead reopens the station. Sent again with its key, it is the same.

    Raises
    ------
    NightRefused
        When the station is of another shop.
    workshops.stations.actions.StationsRefused
        Without a reason or a name.
    """
    if station.shop_id != night.shop_id:
        raise NightRefused(f"{station} is not a station of this shop.")
    # The night first, then the register: whoever places somebody now waits for this, or has
    # written the placing, which is then found and taken away.
    Night.objects.select_for_update().get(pk=night.pk)
    hold_register(night.shop)
    stop = stop_station(
        station=station, reason=reason, stopped_by=stopped_by, starts_on=night.date,
        ends_on=night.date if tonight_only else None, at=at, client_key=client_key,
    )  # fmt: skip
    rows = _standing(stop)
    ahead = [row for row in rows if _is_ahead(row, at)]
    Placing.objects.filter(pk__in=[row.pk for row in ahead]).delete()
    # Fixed by hand and over: a plan made anew must not trip over it at a closed station.
    Placing.objects.filter(pk__in=_pks(rows) - _pks(ahead)).update(is_locked=False)
    return Stopped(stop, tuple(ahead))


def _standing(stop: StationStop) -> QuerySet[Placing]:
    rows = Placing.objects.filter(
        station=stop.station_id, night__status=Night.Status.PLANNED,
        night__date__gte=stop.starts_on,
    )  # fmt: skip
    if stop.ends_on is not None:
        rows = rows.filter(night__date__lte=stop.ends_on)
    return rows.select_related("night__shop", "block", "person", "station")


def _is_ahead(row: Placing, at: datetime) -> bool:
    return minutes(row.block.ends) > minutes_of(at, row.night)


def _pks(rows: Iterable[Placing]) -> set[int]:
    return {row.pk for row in rows}
