"""The problem laid out for computing: indices for names, alike people together, nights cut at
the last spark. Built once for a run; nothing in it is random."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from workshops.season.engine import flow
from workshops.season.engine.curves import wright_exponent
from workshops.season.engine.learn import Beliefs
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.problem import Night, NightKind, Operation, Person, Problem


@dataclass(frozen=True, slots=True)
class Job:
    """An operation by index. ``wanted`` pieces in the whole winter, scrap allowed for."""

    id: str
    index: int
    station: int
    makes: int
    uses: tuple[tuple[int, float], ...]
    hot: bool
    wanted: float
    allowance: float
    rack_limit: float | None
    exponent: float
    made: float
    reference: float


@dataclass(frozen=True, slots=True)
class Crew:
    """People with the same sign-offs, who lapse on the same dates."""

    members: tuple[Person, ...]
    alone: frozenset[str]
    leads: frozenset[str]
    learns: frozenset[str]
    lapses: tuple[tuple[str, str], ...]
    may_watch: bool

    def may(self, operation: str, names: frozenset[str], date: str) -> bool:
        """Whether the crew holds a sign-off among ``names`` that still counts on ``date``."""
        return operation in names and date < dict(self.lapses).get(operation, "9999-12-31")


@dataclass(frozen=True, slots=True)
class Hands:
    """Who may work at one operation on one night, in the order in which they are placed."""

    alone: tuple[tuple[int, float, bool], ...]  # crew, pace, may lead
    learners: tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class Part:
    """A stretch of a night: a block, cut where the last spark or the watch ends."""

    minutes: float
    hot: bool
    watched: bool


@dataclass(frozen=True, slots=True)
class Tonight:
    """One night: its parts, the jobs that may run (most pressing first) and their hands."""

    night: Night
    parts: tuple[Part, ...]
    jobs: tuple[Job, ...]
    hands: dict[int, Hands]
    watchers: tuple[tuple[int, bool], ...]  # crew, and whether it could do hot work instead


@dataclass(frozen=True, slots=True)
class Shop:
    """Everything a batch of winters needs."""

    problem: Problem
    beliefs: Beliefs
    params: OutlookParams
    jobs: tuple[Job, ...]
    crews: tuple[Crew, ...]
    nights: tuple[Tonight, ...]
    cover: NDArray[np.float32]  # jobs x (items, variants): share of the winter's need covered
    wanted_sets: tuple[int, ...]
    leads: tuple[float, ...]  # how far a rack may run ahead, as shares of the winter


def laid_out(problem: Problem, beliefs: Beliefs, params: OutlookParams) -> Shop:
    """Lay the problem out."""
    wanted = flow.wanted_sets(problem)
    jobs = tuple(
        _job(problem, beliefs, index, flow.pieces_wanted(problem, wanted))
        for index in range(len(problem.operations))
    )
    crews = crews_of(problem.people, sorted(night.date for night in problem.nights))
    order = _most_pressing(problem, beliefs, jobs, crews)
    # Near the target the windows would close altogether; a little room keeps people at work.
    left = max(1.0 - problem.finished / max(sum(wanted), 1), 0.02)
    return Shop(
        problem=problem,
        beliefs=beliefs,
        params=params,
        jobs=jobs,
        crews=crews,
        nights=tuple(
            _tonight(problem, night, order, crews, params=params, beliefs=beliefs)
            for night in sorted(problem.nights, key=lambda night: night.date)
        ),
        cover=flow.cover(problem, wanted),
        wanted_sets=wanted,
        leads=tuple(lead * left for lead in params.leads),
    )


def crews_of(people: tuple[Person, ...], dates: list[str]) -> tuple[Crew, ...]:
    """Alike people together, in an order that the order of the input does not touch.

    ``dates`` are those of the nights to come, in order: two sign-offs that lapse between the
    same two nights are alike, and one that outlives the last night never lapses.
    """
    found: dict[tuple[object, ...], list[Person]] = {}
    for person in sorted(people, key=lambda person: person.id):
        alone = frozenset(person.alone) | frozenset(person.leads)
        learns = frozenset(person.learns) - alone
        lapses = tuple(_lapses(person, dates))
        key = (alone, frozenset(person.leads), learns, lapses, person.may_watch)
        found.setdefault(key, []).append(person)
    return tuple(
        Crew(tuple(members), *key)  # type: ignore[arg-type]
        for key, members in found.items()
    )


def _lapses(person: Person, dates: list[str]) -> Iterator[tuple[str, str]]:
    for operation, lapse in sorted(person.lapses.items()):
        first_without = next((day for day in dates if day >= lapse), None)
        if first_without:
            yield operation, first_without


def parts_of(night: Night) -> tuple[Part, ...]:
    """The night's blocks, cut at the last spark and at the end of the watch.

    Two hours with the last spark at 90 minutes and the watch to 110::

        |---- 60 hot ----|-- 30 hot --|- 20 watched -|- 10 -|
    """
    ends = {sum(night.blocks[: i + 1]) for i in range(len(night.blocks))}
    whole = max(ends)
    spark = whole if night.last_spark is None else min(night.last_spark, whole)
    watch = whole if night.watch_until is None else min(night.watch_until, whole)
    cuts = sorted((ends | {spark, watch}) - {0})
    starts = [0, *cuts[:-1]]
    return tuple(
        Part(minutes=end - start, hot=end <= spark, watched=end <= max(watch, spark))
        for start, end in zip(starts, cuts, strict=True)
    )


def may_run(operation: Operation, night: Night) -> bool:
    """Whether the night's kind and its closed list let the operation run."""
    if operation.id in night.closed:
        return False
    barred = (operation.hot and night.kind is NightKind.STRAW) or (
        operation.straw and night.kind is NightKind.STEEL
    )
    return not barred


def _job(problem: Problem, beliefs: Beliefs, index: int, wanted: dict[str, float]) -> Job:
    operation = problem.operations[index]
    places = {item.id: place for place, item in enumerate(problem.items)}
    stations = {station.id: place for place, station in enumerate(problem.stations)}
    limit = problem.items[places[operation.makes]].rack_limit
    at = operation.made_this_winter if operation.learned_at is None else operation.learned_at
    return Job(
        id=operation.id,
        index=index,
        station=stations[operation.station],
        makes=places[operation.makes],
        uses=tuple((places[item], float(count)) for item, count in operation.uses.items()),
        hot=operation.hot,
        wanted=wanted[operation.makes],
        allowance=flow.scrap_allowance(problem, beliefs, operation),
        rack_limit=None if limit is None else float(limit),
        exponent=wright_exponent(operation.learning),
        made=float(operation.made_this_winter),
        reference=float(at),
    )


def _tonight(
    problem: Problem,
    night: Night,
    order: tuple[Job, ...],
    crews: tuple[Crew, ...],
    *,
    params: OutlookParams,
    beliefs: Beliefs,
) -> Tonight:
    operations = {operation.id: operation for operation in problem.operations}
    jobs = tuple(job for job in order if may_run(operations[job.id], night))
    hands = {job.index: _hands(job, night, crews, params, beliefs) for job in jobs}
    hot = {crew for job in jobs if job.hot for crew, *_ in hands[job.index].alone}
    missed = _most_pressing_skill(jobs, hands, len(crews))
    watching = [c for c, crew in enumerate(crews) if crew.may_watch]
    # The watch falls to those who are least missed elsewhere; who could weld comes last.
    watching.sort(key=lambda crew: (crew in hot, -missed[crew], crew))
    watchers = tuple((crew, crew in hot) for crew in watching)
    return Tonight(night, parts_of(night), jobs, hands, watchers)


def _hands(
    job: Job, night: Night, crews: tuple[Crew, ...], params: OutlookParams, beliefs: Beliefs
) -> Hands:
    alone, learners = [], []
    for index, crew in enumerate(crews):
        # A lapsed lead may not even learn: the club signs people off anew or not at all.
        if crew.may(job.id, crew.alone, night.date):
            leads = crew.may(job.id, crew.leads, night.date)
            alone.append((index, _pace(crew, job.id, 1.0, beliefs), leads))
        elif crew.may(job.id, crew.learns, night.date):
            learners.append((index, _pace(crew, job.id, params.learner_pace, beliefs)))
    # The quick first, as benches are scarce; then those with few other skills, so that the
    # versatile stay free for what only they can do.
    alone.sort(key=lambda hand: (-hand[1], len(crews[hand[0]].alone), hand[0]))
    learners.sort(key=lambda hand: (-hand[1], len(crews[hand[0]].alone), hand[0]))
    return Hands(tuple(alone), tuple(learners))


def _pace(crew: Crew, operation: str, usual: float, beliefs: Beliefs) -> float:
    """The crew's mean pace, those who come more often counting for more."""
    weights = [beliefs.turnout[member.id].unasked.mean for member in crew.members]
    paces = [member.pace.get(operation, usual) for member in crew.members]
    return float(np.average(paces, weights=weights))


def _most_pressing_skill(jobs: tuple[Job, ...], hands: dict[int, Hands], crews: int) -> list[int]:
    """For each crew, how early in the order the first job stands that it may work alone."""
    first = [len(jobs)] * crews
    for rank, job in enumerate(jobs):
        for crew, *_ in hands[job.index].alone:
            first[crew] = min(first[crew], rank)
    return first


def _most_pressing(
    problem: Problem, beliefs: Beliefs, jobs: tuple[Job, ...], crews: tuple[Crew, ...]
) -> tuple[Job, ...]:
    """Jobs by the share of their possible minutes that the rest of the winter asks of them."""
    names = {operation.id: operation for operation in problem.operations}

    def load(job: Job) -> tuple[float, str]:
        station = problem.stations[job.station]
        able = sum(
            beliefs.turnout[person.id].unasked.mean
            for crew in crews
            if job.id in crew.alone
            for person in crew.members
        )
        # Mean turnout stands in for the draw: the order is a policy, not a forecast.
        heads = min(able, station.benches * station.crew_max)
        minutes = sum(
            part.minutes
            for night in problem.nights
            if may_run(names[job.id], night)
            for part in parts_of(night)
            if part.hot or not job.hot
        )
        needed = job.wanted * job.allowance / beliefs.rates[job.id].pieces_per_minute.mean
        return -needed / max(heads * minutes, 1e-6), job.id

    return tuple(sorted(jobs, key=load))
