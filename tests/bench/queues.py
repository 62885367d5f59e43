"""Textbook queues played by the event-by-event winter: exponential pieces, carried at once."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field, replace

import numpy as np

from tests.bench.fine_winter import Fate, FineWinter
from tests.workshops.season.engine.winters import CERTAIN, bare, night, person
from workshops.season.engine import learn, shop
from workshops.season.engine.problem import Item, Operation, Problem, Station, Variant
from workshops.season.engine.shop import Job

BLOCK = 480


@dataclass(frozen=True)
class Seen:
    """Means over time: pieces waiting, pieces there, and the rate and stay of single pieces."""

    waiting: float
    there: float
    rate: float
    stay: float


@dataclass
class Watched(FineWinter):
    """A winter that keeps the times at which pieces come before, begin and leave job 1."""

    came: list[float] = field(default_factory=list)
    began: list[float] = field(default_factory=list)
    left: list[float] = field(default_factory=list)

    def _put_down(self, job: Job) -> None:
        (self.left if job.index else self.came).append(self.env.now)
        super()._put_down(job)

    def _begin(self, job: Job) -> float:
        if job.index and not self.half_done[1]:
            self.began.append(self.env.now)
        return super()._begin(job)


def two_stations(between: int, pace: float, *, pieces: int) -> float:
    """Pieces a minute through two benches of 1 and ``pace`` pieces a minute."""
    problem = _two_steps(benches=1, rack_limit=between + 1, minutes=pieces)
    winter = _play(problem, (1.0, pace))
    return len(winter.left) / (len(problem.nights[0].blocks) * BLOCK)


def one_station(benches: int, load: float, *, pieces: int) -> Seen:
    """``load`` pieces a minute for each bench of one a minute: who waits, who is there."""
    rate = load * benches
    problem = _two_steps(benches=benches, rack_limit=None, minutes=pieces / rate)
    winter = _play(problem, (rate, 1.0))
    minutes = len(problem.nights[0].blocks) * BLOCK
    waits = sum(begin - come for come, begin in zip(winter.came, winter.began, strict=False))
    stays, there = _stays(winter), _mean_there(winter, minutes)
    whole = len(stays) / minutes
    return Seen(waits / minutes, there, whole, float(np.mean(stays)))


def _stays(winter: Watched) -> list[float]:
    """How long each piece stayed: with one bench they leave as they came.

    A piece still there at the end stays until the end, so that both sides of the law see it.
    """
    leaving = deque(winter.left)
    end = winter.env.now
    return [(leaving.popleft() if leaving else end) - come for come in winter.came]


def _mean_there(winter: Watched, minutes: float) -> float:
    """The mean number there over time, from the steps up and down."""
    times = np.concatenate([winter.came, winter.left, [winter.env.now]])
    steps = np.concatenate([np.ones(len(winter.came)), -np.ones(len(winter.left)), [0.0]])
    order = np.argsort(times, kind="stable")
    there = np.cumsum(steps[order])[:-1]
    return float((there * np.diff(times[order])).sum() / minutes)


def _two_steps(*, benches: int, rack_limit: int | None, minutes: float) -> Problem:
    """Rods without end to pegs at one bench, pegs to pins at others; one long night."""
    first, pin = bare().operations[0], Operation("point", "pointing", "anvil", 1, "pin", {"peg": 1})
    return bare(
        nights=(night(blocks=(BLOCK,) * max(1, round(minutes / BLOCK))),),
        stations=(Station("bench", "the bench", 1), Station("anvil", "the anvil", benches)),
        items=(
            Item("rod", "rod", on_hand=10**8), Item("peg", "peg", rack_limit=rack_limit),
            Item("pin", "pin"),
        ),
        operations=(replace(first, minutes=1.0), pin),
        variants=(Variant("set", "set", {"pin": 1}, target=10**6),),
        people=(person("Ana", "turn"), *(person(f"Bo {n}", "point") for n in range(benches))),
    )  # fmt: skip


def _play(problem: Problem, rates: tuple[float, float]) -> Watched:
    everybody = frozenset(person.id for person in problem.people)
    fate = Fate(here=[everybody], rate=[list(rates)], scrap=[0.0, 0.0], late=[])
    laid_out = shop.laid_out(problem, learn.beliefs_of(problem, CERTAIN), CERTAIN)
    dice = np.random.default_rng(4)
    winter = Watched(laid_out, fate, dice, piece_spread=1.0, carry_at_once=True)
    winter.run()
    return winter
