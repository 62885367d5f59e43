"""A closed station: days, words, and what the database refuses."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from django.db import IntegrityError, transaction

from inventory.places.models import Shop
from tests.factories import TODAY, make_station
from workshops.stations.actions import StationsRefused, stop_station
from workshops.stations.models import StationStop
from workshops.stations.queries import stops_of

AT = datetime(2026, 1, 15, 1, 12, tzinfo=UTC)  # 19:12 in the shop


def stop(shop: Shop, **fields: object) -> StationStop:
    given = {"reason": "belt torn", "stopped_by": "Dov", "starts_on": TODAY, "at": AT}
    return stop_station(station=make_station(shop, name="Saw"), **(given | fields))


def test_a_stop_tells_why_when_and_who_in_the_shops_own_time(shop: Shop) -> None:
    assert stop(shop).told == "belt torn (closed at 19:12 by Dov, until a lead reopens it)"
    assert list(stops_of(shop)) == list(StationStop.objects.all())


@pytest.mark.parametrize(
    ("day", "holds"),
    [(date(2026, 1, 13), False), (TODAY, True), (date(2026, 1, 16), True),
     (date(2026, 1, 17), False)],
)  # fmt: skip
def test_a_stop_holds_from_its_first_day_to_its_last(shop: Shop, day: date, holds: bool) -> None:
    assert stop(shop, ends_on=date(2026, 1, 16)).holds_on(day) is holds


def test_a_stop_does_not_end_before_it_begins(shop: Shop) -> None:
    with pytest.raises(StationsRefused, match="that day is over"):
        stop(shop, ends_on=date(2026, 1, 13))


@pytest.mark.parametrize(
    "fields", [{"reason": ""}, {"reopened_by": "Ada"}, {"ends_on": date(2025, 1, 1)}]
)
def test_the_database_refuses_half_a_stop(shop: Shop, fields: dict[str, object]) -> None:
    row = stop(shop)
    with pytest.raises(IntegrityError), transaction.atomic():
        StationStop.objects.filter(pk=row.pk).update(**fields)
