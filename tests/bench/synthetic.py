"""Synthetic winters with a hidden truth, played event by event, and what a club would see of them.

The truth is drawn from other families of chance than the outlook's, by plain draws of its own,
and each club differs: the outlook is told nothing but the nights that were.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import simpy
from numpy.random import Generator

from tests.bench.fine_winter import Crew, Fate, FineWinter
from tests.workshops.season.engine.winters import whole_shop
from workshops.season.engine import learn, shop
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.problem import Made, PastNight, PastWork, Problem
from workshops.season.engine.shop import Job, Shop

NIGHTS = 24
NIGHTS_BEFORE = 12  # of last winter, for every other club
PEOPLE = 45


@dataclass(frozen=True)
class Truth:
    """How one club really is; nobody in it knows."""

    comes: dict[str, float]
    mood: float
    lost: float
    rate: dict[str, float]
    swing: float
    scrap: dict[str, float]


@dataclass(frozen=True)
class Seen:
    """What stands in the book when a night is over."""

    racks: list[int]
    sets: list[int]
    total: list[int]
    past: PastNight
    here: frozenset[str]


class Halves(list[float]):
    """Half-done pieces, telling when one was just put aside."""

    just = False

    def append(self, work: float) -> None:
        """Put one aside."""
        self.just = True
        super().append(work)


@dataclass
class Booked(FineWinter):
    """A fine winter that keeps what a club would write down each night."""

    seen: list[Seen] = field(default_factory=list)
    lost: Sequence[bool] = ()

    def __post_init__(self) -> None:
        super().__post_init__()
        self.half_done = [Halves() for _ in self.shop.jobs]
        self._clean()

    def _clean(self) -> None:
        self.spent = [0.0] * len(self.shop.jobs)
        self.good = [0] * len(self.shop.jobs)
        self.before = list(self.total)

    def _bench(self, job: Job, crew: Crew, quota: dict[int, float]) -> Iterator[simpy.Event]:
        began, halves = self.env.now, self.half_done[job.index]
        yield from super()._bench(job, crew, quota)
        # A bench that puts a piece aside returns at once, yet its crew worked to the end.
        ended = self.ends if getattr(halves, "just", False) else self.env.now
        halves.just = False  # type: ignore[attr-defined]
        self.spent[job.index] += (ended - began) * len(crew)

    def _put_down(self, job: Job) -> None:
        self.good[job.index] += 1
        super()._put_down(job)

    def _gather(self) -> None:
        super()._gather()
        held, here = not self.lost[self.index], self.fate.here[self.index]
        work = tuple(
            PastWork(job.id, self.good[job.index], self._scrapped(job), self.spent[job.index])
            for job in self.shop.jobs
            if self.spent[job.index] > 0
        )
        day, asked = self.tonight.night.date, PEOPLE if held else 0
        past = PastNight(day, held=held, asked=asked, came=len(here), work=work)
        self.seen.append(Seen(list(self.racks), list(self.sets), list(self.total), past, here))
        self._clean()

    def _scrapped(self, job: Job) -> int:
        return self.total[job.index] - self.before[job.index] - self.good[job.index]


def truth_of(dice: Generator) -> Truth:
    """One club, drawn: how willing, how quick, how unlucky."""
    problem = _plain()
    mean, alike = dice.uniform(0.3, 0.6), dice.uniform(2.0, 8.0)
    return Truth(
        comes={p.id: float(dice.beta(mean * alike, (1 - mean) * alike)) for p in problem.people},
        mood=float(dice.uniform(0.05, 0.25)),
        lost=float(dice.beta(1.5, 20.0)),
        rate={o.id: _about_one(dice, 0.3) / o.minutes for o in problem.operations},
        swing=float(dice.uniform(0.1, 0.35)),
        scrap={o.id: float(dice.beta(2.0, 48.0)) for o in problem.operations},
    )


def play(laid_out: Shop, truth: Truth, dice: Generator) -> list[Seen]:
    """One winter of that club, night by night."""
    lost = [bool(dice.random() < truth.lost) for _ in laid_out.nights]
    fate = Fate(
        here=[frozenset() if gone else _come(truth, dice) for gone in lost],
        rate=[
            [truth.rate[job.id] * _about_one(dice, truth.swing) for job in laid_out.jobs]
            for _ in laid_out.nights
        ],
        scrap=[truth.scrap[job.id] for job in laid_out.jobs],
        late=[],
    )
    winter = Booked(laid_out, fate, dice, lost=lost)
    winter.run()
    return winter.seen


def _come(truth: Truth, dice: Generator) -> frozenset[str]:
    mood = _about_one(dice, truth.mood)
    return frozenset(name for name, chance in truth.comes.items() if dice.random() < chance * mood)


def _about_one(dice: Generator, spread: float) -> float:
    """Lognormal with mean 1 and this coefficient of variation."""
    sigma = float(np.sqrt(np.log1p(spread**2)))
    return float(np.exp(dice.normal(-(sigma**2) / 2, sigma)))


def shops() -> tuple[Shop, Shop]:
    """Last winter's nights and this winter's, laid out by the build sheets alone."""
    problem, params = _plain(), OutlookParams()
    before = replace(
        problem,
        nights=tuple(
            replace(n, date=(date.fromisoformat(n.date) - timedelta(days=364)).isoformat())
            for n in problem.nights[:NIGHTS_BEFORE]
        ),
    )
    first, second = (
        shop.laid_out(p, learn.beliefs_of(p, params), params) for p in (before, problem)
    )
    return first, second


def asked_after(seen: Sequence[Seen], last_winter: Sequence[Seen], nights: int) -> Problem:
    """The problem a club would put to the outlook when ``nights`` nights are over."""
    problem, now = _plain(), seen[nights - 1]
    past = [*last_winter, *seen[:nights]]
    held = sum(row.past.held for row in past)
    came = {p.id: sum(p.id in row.here for row in past) for p in problem.people}
    zipped: Any = zip(problem.operations, now.total, strict=True)
    return replace(
        problem,
        nights=problem.nights[nights:],
        items=tuple(
            replace(i, on_hand=count) for i, count in zip(problem.items, now.racks, strict=True)
        ),
        operations=tuple(replace(o, made_this_winter=made, learned_at=None) for o, made in zipped),
        variants=tuple(
            replace(v, finished=sets) for v, sets in zip(problem.variants, now.sets, strict=True)
        ),
        people=tuple(replace(p, asked=held, came=came[p.id]) for p in problem.people),
        history=tuple(row.past for row in past),
        made=tuple(Made(row.past.date, sum(row.sets)) for row in seen[:nights]),
    )


def _plain() -> Problem:
    """The shop before its first night, with nobody's attendance known."""
    problem = whole_shop(nights=NIGHTS, people=PEOPLE)
    return replace(
        problem,
        nights=tuple(replace(night, chance_lost=None) for night in problem.nights),
        people=tuple(replace(person, asked=0, came=0) for person in problem.people),
        history=(),
        made=(),
    )
