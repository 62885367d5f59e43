"""A winter event by event, piece by piece: the slow second opinion on the outlook.

It keeps the shop's rules (who may work, most pressing first, racks carried over between
blocks, fire watch) but knows single people, single benches and whole pieces, and is written
without a vector. Only tests and benches use it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import simpy
from numpy.random import Generator

from workshops.season.engine import trials
from workshops.season.engine.problem import Answer, Person
from workshops.season.engine.shop import Job, Part, Shop, Tonight
from workshops.season.engine.streams import Step, Streams

Crew = list[Person]


@dataclass(frozen=True)
class Fate:
    """What chance has decided for one winter: whole arrays of ``Streams``, cut to one column."""

    here: list[frozenset[str]]  # nights: ids of the people who came, none on a lost night
    rate: list[list[float]]  # nights x jobs: pieces a person-minute, learning left out
    scrap: list[float]  # jobs
    late: list[bool]  # arrivals


def fates(shop: Shop, streams: Streams) -> Iterator[Fate]:
    """The same luck that the outlook's winters of ``streams`` meet, one winter at a time."""
    nights = [_night_fate(shop, tonight, streams) for tonight in shop.nights]
    scraps = [
        trials.draw_share(
            streams.of(Step.SCRAP, job.id), shop.beliefs.rates[job.id].scrap, streams.size
        )
        for job in shop.jobs
    ]
    lates = [
        trials.draw_happens(streams.of(Step.LATE, a.item, a.date), a.chance_late, streams.size)
        for a in shop.problem.arrivals
    ]
    for winter in range(streams.size):
        yield Fate(
            here=[
                frozenset(name for name, came in comes.items() if came[winter] and held[winter])
                for held, comes, _ in nights
            ],
            rate=[[float(rate[winter]) for rate in rates] for _, _, rates in nights],
            scrap=[float(scrap[winter]) for scrap in scraps],
            late=[bool(late[winter]) for late in lates],
        )


def _night_fate(shop: Shop, tonight: Tonight, streams: Streams) -> tuple[Any, dict[str, Any], Any]:
    size, beliefs, night = streams.size, shop.beliefs, tonight.night
    chance = trials.draw_share(streams.of(Step.LOST_SHARE), beliefs.lost, size)
    if night.chance_lost is not None:
        chance = np.full(size, night.chance_lost, dtype=np.float32)
    held = ~trials.draw_happens(streams.of(Step.LOST, night.date), chance, size)
    mood = trials.draw_swing(streams.of(Step.MOOD, night.date), beliefs.turnout_spread, size)
    comes = {}
    for person in shop.problem.people:
        answer = person.answers.get(night.date, Answer.MAYBE)
        own = beliefs.turnout[person.id]
        belief = {Answer.YES: own.after_yes, Answer.NO: own.after_no}.get(answer, own.unasked)
        likely = trials.draw_share(streams.of(Step.TURNOUT, person.id, answer.value), belief, size)
        stream = streams.of(Step.COMES, person.id, night.date)
        comes[person.id] = trials.draw_happens(stream, likely * mood, size)
    rates = []
    for job in shop.jobs:
        rate = beliefs.rates[job.id]
        usual = trials.draw_rate(streams.of(Step.RATE, job.id), rate.pieces_per_minute, size)
        stream = streams.of(Step.NIGHT_RATE, job.id, night.date)
        rates.append(np.maximum(usual, 1e-6) * trials.draw_swing(stream, rate.spread, size))
    return held, comes, rates


@dataclass
class FineWinter:
    """One winter. ``run`` gives the finished sets at the end of each night."""

    shop: Shop
    fate: Fate
    dice: Generator
    piece_spread: float = 0.3  # coefficient of variation of one piece's time; 1 is exponential
    carry_at_once: bool = False  # a piece reaches its rack when made, not at the block's end
    env: simpy.Environment = field(default_factory=simpy.Environment)

    def __post_init__(self) -> None:
        problem = self.shop.problem
        self.racks = [item.on_hand for item in problem.items]
        self.sets = [variant.finished for variant in problem.variants]
        self.total = [int(job.made) for job in self.shop.jobs]
        self.half_done: list[list[float]] = [[] for _ in self.shop.jobs]

    def run(self) -> list[int]:
        self.finished: list[int] = []
        self.env.process(self._winter())
        self.env.run()
        return self.finished

    def _winter(self) -> Iterator[simpy.Event]:
        before = ""
        for index, tonight in enumerate(self.shop.nights):
            self._deliver(before, tonight.night.date)
            before = tonight.night.date
            self.watched = False
            for part in tonight.parts:
                yield from self._part(index, tonight, part)
            self._gather()
            self.finished.append(sum(self.sets))

    def _deliver(self, before: str, until: str) -> None:
        names = [item.id for item in self.shop.problem.items]
        for arrival, late in zip(self.shop.problem.arrivals, self.fate.late, strict=True):
            day = np.datetime64(arrival.date) + (arrival.late_days if late else 0)
            if before < str(day) <= until:
                self.racks[names.index(arrival.item)] += arrival.quantity

    def _part(self, index: int, tonight: Tonight, part: Part) -> Iterator[simpy.Event]:
        here = self.fate.here[index]
        self.index, self.tonight, self.part = index, tonight, part
        self.free: Crew = [p for p in self.shop.problem.people if p.id in here]
        self.seats = [
            station.benches * (station.crew_max if station.crew_min == 1 else 1)
            for station in self.shop.problem.stations
        ]
        self.made = [0] * len(self.shop.jobs)
        self.begun = [0] * len(self.shop.jobs)
        self.in_hand = [0] * len(self.shop.jobs)
        self.leading: dict[int, int] = {}
        self.ends = self.env.now + part.minutes
        self._set_quotas()
        self._post_watch()
        self._place()
        yield self.env.timeout(part.minutes)
        yield self.env.timeout(0)  # benches that finish a piece on the stroke go first
        for job in self.shop.jobs:
            self.racks[job.makes] += self.made[job.index]

    def _set_quotas(self) -> None:
        """Pieces that may be begun in this part: while keeping step, and with hands left over."""
        cover = self.shop.cover.astype(float) @ np.array([*self.racks, *self.sets], dtype=float)
        rows = [job.index for job in self.tonight.jobs if job.wanted > 0]
        behind = min((cover[row] for row in rows), default=0.0)
        levels = [behind + lead for lead in self.shop.leads]
        levels.append(max(1.0, behind + 3 * self.shop.params.leads[-1]))
        if not self.shop.problem.carries_on:
            levels = [min(level, 1.0) for level in levels]
        self.quotas = [
            {
                job.index: (level - cover[job.index]) * job.wanted * job.allowance + 0.5
                for job in self.tonight.jobs
            }
            for level in levels
        ]

    def _post_watch(self) -> None:
        hot = [job for job in self.tonight.jobs if job.hot]
        wanted = self.watched
        if self.part.hot:
            wanted = wanted or any(self._may_begin(job, self.quotas[-1]) for job in hot)
        self.watched = False
        if not (wanted and self.part.watched):
            return
        welders = [p for p in self.free if any(self._may(p, job) for job in hot)]
        for crew, could_weld in self.tonight.watchers:
            members = {member.id for member in self.shop.crews[crew].members}
            for person in [p for p in self.free if p.id in members]:
                if self.part.hot and len(welders) < (2 if could_weld else 1):
                    continue
                self.free.remove(person)
                self.watched = True
                return

    def _place(self) -> None:
        """Everybody free goes to the most pressing work that they may do and that is there."""
        if self.env.now >= self.ends:
            return
        for quota in self.quotas:
            for job in self.tonight.jobs:
                while self._may_begin(job, quota) and (crew := self._crew_for(job)):
                    self.env.process(self._bench(job, crew, quota))

    def _may_begin(self, job: Job, quota: dict[int, float]) -> bool:
        if job.hot and not self.part.hot:
            return False
        if self.half_done[job.index]:
            return True
        if self.begun[job.index] + 1 > quota[job.index] + 0.5:
            return False
        if job.rack_limit is not None:
            there = self.racks[job.makes] + self.made[job.index] + self.in_hand[job.index]
            if there + 1 > job.rack_limit:
                return False
        return all(self.racks[item] >= count for item, count in job.uses)

    def _may(self, person: Person, job: Job) -> bool:
        lapsed = self.tonight.night.date >= person.lapses.get(job.id, "9999")
        return not lapsed and (job.id in person.alone or job.id in person.leads)

    def _crew_for(self, job: Job) -> Crew:
        """A bench's crew from the free people, quick and single-skilled first; none when short."""
        station = self.shop.problem.stations[job.station]
        if self.seats[job.station] < 1 or (job.hot and not self.watched):
            return []
        size = station.crew_max if station.crew_min > 1 else 1
        able = sorted(
            (p for p in self.free if self._may(p, job)),
            key=lambda p: (-p.pace.get(job.id, 1.0), len(p.alone), p.id),
        )
        crew = able[:size]
        if len(crew) < size:
            crew += self._learners(job, size - len(crew), crew)
        if len(crew) < station.crew_min:
            return []
        self.seats[job.station] -= 1
        self.free = [p for p in self.free if p not in crew]
        return crew

    def _learners(self, job: Job, room: int, crew: Crew) -> Crew:
        leads = sum(job.id in person.leads for person in crew) + self.leading.get(job.index, 0)
        most = min(room, leads * self.shop.problem.learners_per_lead)
        return [p for p in self.free if job.id in p.learns and p not in crew][:most]

    def _bench(self, job: Job, crew: Crew, quota: dict[int, float]) -> Iterator[simpy.Event]:
        """One bench works piece after piece; what is half done at the end of the part stays."""
        usual = self.shop.params.learner_pace
        pace = sum(
            person.pace.get(job.id, 1.0 if self._may(person, job) else usual) for person in crew
        )
        leads = sum(job.id in person.leads for person in crew)
        self.leading[job.index] = self.leading.get(job.index, 0) + leads
        while self.env.now < self.ends and self._may_begin(job, quota):
            work = self._begin(job)
            self.in_hand[job.index] += 1
            if self.carry_at_once:
                self._place()
            needed = work / (self.fate.rate[self.index][job.index] * pace * self._learned(job))
            left = self.ends - self.env.now
            if needed > left:
                self.half_done[job.index].append(work * (1.0 - left / needed))
                return
            yield self.env.timeout(needed)
            self.total[job.index] += 1
            self.in_hand[job.index] -= 1
            if self.dice.random() >= self.fate.scrap[job.index]:
                self._put_down(job)
        self.leading[job.index] -= leads
        self.seats[job.station] += 1
        self.free += crew
        self._place()

    def _put_down(self, job: Job) -> None:
        if not self.carry_at_once:
            self.made[job.index] += 1
            return
        self.racks[job.makes] += 1
        self._place()

    def _begin(self, job: Job) -> float:
        """Take up a half-done piece, or material for a new one; gives the work left in it."""
        if self.half_done[job.index]:
            return self.half_done[job.index].pop()
        self.begun[job.index] += 1
        for item, count in job.uses:
            self.racks[item] -= int(count)
        shape = 1.0 / self.piece_spread**2
        return float(self.dice.gamma(shape, 1.0 / shape))

    def _learned(self, job: Job) -> float:
        ratio = (self.total[job.index] + 1) / (job.reference + 1)
        return float(min(ratio**-job.exponent, self.shop.params.learning_cap))

    def _gather(self) -> None:
        names = [item.id for item in self.shop.problem.items]
        beyond = self.shop.problem.carries_on or self.shop.problem.total_target is not None
        for limited in (True, False) if beyond else (True,):
            for row, variant in enumerate(self.shop.problem.variants):
                parts = {names.index(item): count for item, count in variant.parts.items()}
                sets = min(self.racks[item] // count for item, count in parts.items())
                if limited:
                    sets = min(sets, max(0, self.shop.wanted_sets[row] - self.sets[row]))
                self.sets[row] += sets
                for item, count in parts.items():
                    self.racks[item] -= sets * count
