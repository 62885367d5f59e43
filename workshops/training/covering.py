"""Train next: the stations whose work hangs on one person, and those seldom covered ahead."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from inventory.places.models import Shop
from workshops.nights.models import Night, SignUp
from workshops.nights.translate import closed_because
from workshops.people.cover import hands_at
from workshops.people.facts import StationFacts
from workshops.people.gate import Register, register_on
from workshops.people.names import short_names
from workshops.people.practice import Readiness, practice_of, readiness
from workshops.stations.models import Station

NIGHTS_AHEAD = 8  # two months of a club that meets weekly: farther off nobody has answered
MOST_NAMED = 6


@dataclass(frozen=True)
class Ahead:
    """The register of today and the nights ahead, loaded once: 10 queries for any size."""

    shop: Shop
    on: date
    register: Register
    stations: list[Station]
    nights: list[Night]
    names: dict[int, str]

    def yes(self, night: Night) -> set[int]:
        """Ids of those who said that they come."""
        return {row.person_id for row in night.sign_ups.all() if row.answer == SignUp.Answer.YES}

    def counts_on(self, person: int, station: int, night: Night) -> bool:
        """Whether the sign-off that counts today still counts on the night."""
        signed = self.register.people[person].current(station, self.on)
        return signed is not None and signed.is_current(night.date)


@dataclass(frozen=True, slots=True)
class Learner:
    """Somebody who learns at a station, and how far they are."""

    person: int
    name: str
    station: StationFacts
    ready: Readiness


@dataclass(frozen=True, slots=True)
class Cover:
    """One station against the nights ahead: who can, and on how many nights enough of them come.

    ``open_nights`` are those on which the station is not closed by the kind of night.
    """

    station: Station
    hands: list[str]
    open_nights: int
    covered: int
    learners: list[Learner]
    hangs_on: str = ""

    @property
    def is_alone(self) -> bool:
        """Whether the work hangs on one person, or on nobody."""
        return len(self.hands) < 2

    @property
    def named(self) -> str:
        """Those who can, a few by name."""
        rest = len(self.hands) - MOST_NAMED
        told = ", ".join(self.hands[:MOST_NAMED])
        return f"{told} and {rest} more" if rest > 0 else told

    @property
    def rank(self) -> tuple[bool, float, int, str]:
        """The first to train for comes first: one-person jobs, then by share of nights covered."""
        share = self.covered / self.open_nights if self.open_nights else 1.0
        return (not self.is_alone, share, len(self.hands), self.station.name)


def look_ahead(shop: Shop, on: date) -> Ahead:
    """What training is planned from. 10 queries for any size."""
    rows = Station.objects.filter(shop=shop, is_in_use=True)
    stations = list(rows.select_related("room").prefetch_related("prerequisites"))
    register = register_on(shop, on, stations=stations)
    planned = Night.objects.filter(shop=shop, date__gte=on, status=Night.Status.PLANNED)
    nights = list(planned.order_by("date").prefetch_related("sign_ups")[:NIGHTS_AHEAD])
    return Ahead(shop, on, register, stations, nights, short_names(register.people.values()))


def learners_of(ahead: Ahead) -> list[Learner]:
    """Everybody who learns somewhere, the nearest to ready first. 1 query."""
    practice = practice_of(ahead.shop, ahead.on)
    found = [
        Learner(pk, ahead.names[pk], ahead.register.stations[station], ready)
        for pk, facts in ahead.register.people.items()
        if facts.is_active
        for station in facts.signed
        if station in ahead.register.stations
        and (ready := readiness(ahead.register, facts, station, practice))
    ]
    return sorted(found, key=lambda one: (one.ready.nights_left, one.station.name, one.name))


def train_next(ahead: Ahead, learners: Sequence[Learner]) -> list[Cover]:
    """Stations that take a sign-off, the one to train for first at the head. No query."""
    found = [_cover(ahead, row, learners) for row in ahead.stations if row.level_needed]
    return sorted(found, key=lambda each: each.rank)


def _cover(ahead: Ahead, station: Station, learners: Sequence[Learner]) -> Cover:
    hands = hands_at(ahead.register, station.pk)
    nights = [night for night in ahead.nights if not closed_because(station, night)]
    at = {night.pk: _there(ahead, hands, station, night) for night in nights}
    return Cover(
        station=station,
        hands=sorted(ahead.names[pk] for pk in hands),
        open_nights=len(nights),
        covered=sum(len(there) >= station.crew_min for there in at.values()),
        learners=[each for each in learners if each.station.pk == station.pk],
        hangs_on=_hangs_on(ahead, hands, at),
    )


def _there(ahead: Ahead, hands: Sequence[int], station: Station, night: Night) -> set[int]:
    yes = ahead.yes(night)
    return {pk for pk in hands if pk in yes and ahead.counts_on(pk, station.pk, night)}


def _hangs_on(ahead: Ahead, hands: Sequence[int], at: dict[int, set[int]]) -> str:
    """Who carries a station alone, in a sentence; empty where nobody does."""
    if not hands:
        return "Nobody can work here today."
    if len(hands) > 1:
        return ""
    name = ahead.names[hands[0]]
    nights = sum(bool(there) for there in at.values())
    return f"Only {name} can, and is down for {nights} of the {len(at)} nights ahead."
