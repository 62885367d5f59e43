"""Who worked where on a day: what a lapse without use and a learner's hours are counted from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from inventory.places.models import Shop
from workshops.people.models import Use


@dataclass(frozen=True, slots=True)
class Used:
    """One person at one station on a day, by their ids; minutes are of work there."""

    person: int
    station: int
    minutes: int
    with_a_lead: bool = False


@transaction.atomic
def record_uses(*, shop: Shop, day: date, uses: Iterable[Used]) -> None:
    """Keep who worked where on a day; replaces what was kept of that day.

    The caller says only what the gate let through: work against a stop renews nothing.
    """
    minutes: dict[tuple[int, int, bool], int] = {}
    for each in uses:
        key = (each.person, each.station, each.with_a_lead)
        minutes[key] = minutes.get(key, 0) + each.minutes
    # A tally changes few of them: what stays as it was is not written again.
    kept = {
        (row.person_id, row.station_id, row.with_a_lead): row
        for row in Use.objects.filter(shop=shop, day=day)
    }
    gone = [row.pk for key, row in kept.items() if minutes.get(key) != row.minutes]
    if gone:
        Use.objects.filter(pk__in=gone).delete()
    Use.objects.bulk_create(
        Use(
            shop=shop, person_id=person, station_id=station, with_a_lead=with_a_lead, day=day,
            minutes=count,
        )
        for (person, station, with_a_lead), count in minutes.items()
        if (row := kept.get((person, station, with_a_lead))) is None or row.minutes != count
    )  # fmt: skip
