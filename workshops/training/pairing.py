"""A training timetable proposed: learner, lead and night, no lead with too many at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from workshops.nights.models import Night, TrainingDate
from workshops.nights.translate import closed_because
from workshops.people.gate import Doing
from workshops.stations.models import Level, Station
from workshops.training.covering import Ahead, Cover, Learner

# A waiver is signed at the door of the night itself.
AT_THE_DOOR = frozenset({"waiver"})


@dataclass(frozen=True, slots=True)
class Pair:
    """A proposal: who learns what, beside whom, on which night."""

    learner: Learner
    lead: int
    lead_name: str
    night: Night


@dataclass(frozen=True, slots=True)
class Unpaired:
    """A learner for whom no date was found, and why."""

    learner: Learner
    why_not: str


@dataclass
class Load:
    """Who teaches or learns on which night already, and how much each lead has in all."""

    learning: set[tuple[int, int]] = field(default_factory=set)  # night, person
    teaching: dict[tuple[int, int], int] = field(default_factory=dict)  # night, lead: station
    counts: Counter[tuple[int, int]] = field(default_factory=Counter)  # night, lead
    in_all: Counter[int] = field(default_factory=Counter)

    def add(self, night: int, *, learner: int, lead: int, station: int) -> None:
        """Take a line into account."""
        self.learning.add((night, learner))
        self.teaching[night, lead] = station
        self.counts[night, lead] += 1
        self.in_all[lead] += 1

    def is_free(self, night: int, lead: int, station: int, most: int) -> bool:
        """Whether the lead has room for one more at the station that night."""
        if (night, lead) in self.learning or self.counts[night, lead] >= most:
            return False
        return self.teaching.get((night, lead), station) == station


def propose(
    ahead: Ahead, covers: Sequence[Cover], dates: Iterable[TrainingDate]
) -> tuple[list[Pair], list[Unpaired]]:
    """One date for each learner who has none at their station yet. No query.

    Notes
    -----
    Greedy: the stations to train for first, there the nearest to ready first, each on the
    first night on which learner and a lead come; among leads the one with fewest learners.
    """
    load, planned = Load(), set()
    for row in dates:
        load.add(row.night_id, learner=row.learner_id, lead=row.lead_id, station=row.station_id)
        planned.add((row.learner_id, row.station_id))
    pairs: list[Pair] = []
    unpaired: list[Unpaired] = []
    for cover in covers:
        for learner in cover.learners:
            if (learner.person, cover.station.pk) in planned or learner.ready.is_ready:
                continue
            found = _pair(ahead, cover.station, learner, load)
            if isinstance(found, Pair):
                pairs.append(found)
            else:
                unpaired.append(found)
    return pairs, unpaired


def _pair(ahead: Ahead, station: Station, learner: Learner, load: Load) -> Pair | Unpaired:
    leads = _leads(ahead, station)
    if not leads:
        return Unpaired(learner, f"Nobody may lead at {station} today.")
    most = station.learners_per_lead
    most = ahead.register.rules.learners_per_lead if most is None else most
    nights = _nights(ahead, station, learner)
    for night in nights:
        if (night.pk, learner.person) in load.learning | set(load.teaching):
            continue
        free = [
            lead
            for lead in leads
            if lead in ahead.yes(night)
            and ahead.counts_on(lead, station.pk, night)
            and load.is_free(night.pk, lead, station.pk, most)
        ]
        if free:
            lead = min(free, key=lambda pk: (load.counts[night.pk, pk], load.in_all[pk], pk))
            load.add(night.pk, learner=learner.person, lead=lead, station=station.pk)
            return Pair(learner, lead, ahead.names[lead], night)
    if not nights:
        return Unpaired(learner, "Has said yes to no night ahead on which the station is open.")
    return Unpaired(learner, "No lead with room for a learner comes on a night that they come.")


def _nights(ahead: Ahead, station: Station, learner: Learner) -> list[Night]:
    return [
        night
        for night in ahead.nights
        if not closed_because(station, night)
        and learner.person in ahead.yes(night)
        and ahead.counts_on(learner.person, station.pk, night)
    ]


def _leads(ahead: Ahead, station: Station) -> list[int]:
    register = ahead.register
    return [
        pk
        for pk, facts in register.people.items()
        if (signed := facts.current(station.pk, ahead.on))
        and signed.level >= Level.MAY_LEAD
        and register.answer(pk, station.pk, Doing.LEADS).ok_but_for(AT_THE_DOOR)
    ]
