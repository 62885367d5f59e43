"""The evacuation list: who is in the building, where they work now, who wants a hand."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from workshops.nights.models import AlarmHand, Night
from workshops.nights.queries import in_the_building, names_in
from workshops.nights.roll_page import placings_by_person, station_now


@dataclass(frozen=True, slots=True)
class ToFind:
    """One person to be seen at the meeting point.

    That they want a hand is shown on a press alone, and never why.
    """

    person_id: int
    name: str
    station: str
    since: datetime
    wants_a_hand: bool


def evacuation_list(night: Night, now: datetime) -> list[ToFind]:
    """Everybody in the building at the moment, by name. 4 queries; empty when nobody is in."""
    lines = list(in_the_building(night))
    names = names_in(night.shop)
    placed = placings_by_person(night)
    ids = [line.person_id for line in lines]
    hands = set(AlarmHand.objects.filter(person__in=ids).values_list("person", flat=True))
    found = [
        ToFind(
            person_id=line.person_id, name=names[line.person_id],
            station=station_now(placed[line.person_id], night, now), since=line.in_at,
            wants_a_hand=line.person_id in hands,
        )
        for line in lines
    ]  # fmt: skip
    return sorted(found, key=lambda each: each.name.casefold())
