"""From how many to who and where: groups to people, people to benches; who can stay, stays."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from workshops.nights.engine import model_gates as gates
from workshops.nights.engine.model import Model
from workshops.nights.engine.people import LAST_MINUTE, Person
from workshops.nights.engine.placings import Placing, Role, Watching
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.side_by_side import side_by_side
from workshops.nights.engine.stations import Station

Place = tuple[str, str]  # "works", "learns" or "watches"; the station or the room
Seats = dict[tuple[int, Place], list[str]]  # block and place -> people


@dataclass(frozen=True, slots=True)
class Crew:
    """People at one station in one block: who may lead, who works alone, who learns."""

    leads: tuple[str, ...]
    alone: tuple[str, ...]
    learners: tuple[str, ...]


def deal(model: Model, values: np.ndarray) -> tuple[tuple[Placing, ...], tuple[Watching, ...]]:
    """Placings and watch of a solution, with a name for every one that it counts."""
    seats = _seat_groups(model, values)
    placings: list[Placing] = []
    benches: dict[tuple[str, str], int] = {}  # person, station -> bench of the block before
    for block, station in sorted(model.opens):
        # The solver's whole numbers are whole to a millionth.
        opened = round(values[model.opens[block, station]])
        works = seats.get((block, ("works", station)), [])
        learns = seats.get((block, ("learns", station)), [])
        if opened and (works or learns):
            crew = split(model.problem, model.problem.station[station], works, learns)
            at = deal_benches(
                model.problem, model.problem.station[station], crew, opened, before=benches
            )
            at = side_by_side(model.problem, station, at, kinds=(crew.leads, crew.learners))
            benches.update({(person, station): bench for person, bench in at.items()})
            placings += named(block, station, crew, at)
    return tuple(placings), watch_of(model.problem, placings, seats)


def split(problem: Problem, station: Station, works: list[str], learns: list[str]) -> Crew:
    """Tell leads from people who work alone."""
    leads = [each for each in works if gates.may_lead(problem, problem.person[each], station)]
    alone = [each for each in works if each not in leads]
    return Crew(tuple(sorted(leads)), tuple(sorted(alone)), tuple(sorted(learns)))


def _seat_groups(model: Model, values: np.ndarray) -> Seats:
    seats: Seats = {}
    stood: dict[str, Place] = {}  # where each person was in the block before
    off: dict[str, int] = {}  # how often each was off a floor that holds too few
    for block in range(len(model.problem.blocks)):
        known = _known(model.problem, block)
        for number, group in enumerate(model.groups):
            counts = _counts(model, number, block, values)
            # Anew in each block: everybody of the group can stand in one place again.
            left = list(group.members)
            if block in model.problem.short_blocks and not model.problem.previous:
                goes = _in_turns(model.problem, left, counts, off=off, stood=stood)
            else:
                goes = _who_goes(left, counts, known=known, stood=stood)
            for person, place in goes:
                seats.setdefault((block, place), []).append(person.id)
                stood[person.id] = place
    return seats


def _in_turns(
    problem: Problem,
    people: list[Person],
    counts: dict[Place, int],
    *,
    off: dict[str, int],
    stood: dict[str, Place],
) -> list[tuple[Person, Place]]:
    """Fill the places so that of people alike those go on the floor who were off it most."""
    on = {place: count for place, count in counts.items() if not _is_off(problem, place)}
    rest = {place: count for place, count in counts.items() if place not in on}
    ranked = sorted(people, key=lambda person: -off.get(person.id, 0))
    taken = sum(on.values())
    for person in ranked[taken:]:
        off[person.id] = off.get(person.id, 0) + 1

    def known(_person: Person, _place: Place) -> bool:
        return False

    return [
        *_who_goes(ranked[:taken], on, known=known, stood=stood),
        *_who_goes(ranked[taken:], rest, known=known, stood=stood),
    ]


def _is_off(problem: Problem, place: Place) -> bool:
    kind, name = place
    duty = problem.watch_station
    if kind == "watches":
        return duty is not None and duty.is_off_floor
    return problem.station[name].is_off_floor


def _known(problem: Problem, block: int) -> Callable[[Person, Place], bool]:
    """Whether the plan that people know has a person at a place in the block."""
    duty = problem.watch_station
    before = {each.person: each.station for each in problem.previous if each.block == block}

    def knows(person: Person, place: Place) -> bool:
        station = duty.id if duty and place[0] == "watches" else place[1]
        return before.get(person.id) == station

    return knows


def _counts(model: Model, number: int, block: int, values: np.ndarray) -> dict[Place, int]:
    kinds = (("works", model.works), ("learns", model.learns), ("watches", model.watches))
    counts = {}
    for kind, slots in kinds:
        for (at, name), columns in slots.items():
            if at == block and number in columns:
                count = round(values[columns[number]])
                if count:
                    counts[kind, name] = count
    return counts


def _who_goes(
    people: list[Person],
    counts: dict[Place, int],
    *,
    known: Callable[[Person, Place], bool],
    stood: dict[str, Place],
) -> list[tuple[Person, Place]]:
    """Fill the places with people of one group: first those who know the place already."""

    def stays(person: Person, place: Place) -> bool:
        return stood.get(person.id) == place

    found: list[tuple[Person, Place]] = []
    # Whoever was there in the last plan, then whoever just stood there, then anybody.
    for fits in (known, stays, lambda _person, _place: True):
        for place in sorted(counts):
            for person in [each for each in people if fits(each, place)][: counts[place]]:
                found.append((person, place))
                people.remove(person)
                counts[place] -= 1
    return found


def bench_sizes(
    problem: Problem, station: Station, sizes: tuple[int, int, int], opened: int
) -> list[list[int]]:
    """How many leads, people alone and learners stand at each open bench.

    Notes
    -----
    Leads go evenly where there are learners. Learners fill benches with leads up to the
    minimum first, people who work alone fill what is short of it, then everybody fills up.
    """
    leads, alone, learners = sizes
    ratio = problem.learner_ratio(station)
    shared = opened if learners else max(1, opened)
    # The first benches take one more where leads do not go in evenly.
    benches = [[leads // shared + (i < leads % shared), 0, 0] for i in range(opened)]
    for most in (station.crew_least, station.crew_max):
        for bench in benches:
            fit = min(ratio * bench[0] - bench[2], most - sum(bench), learners)
            bench[2] += max(0, fit)
            learners -= max(0, fit)
    for most in (station.crew_least, station.crew_max):
        for bench in benches:
            fit = max(0, min(most - sum(bench), alone))
            bench[1] += fit
            alone -= fit
    return benches


def deal_benches(
    problem: Problem,
    station: Station,
    crew: Crew,
    opened: int,
    *,
    before: dict[tuple[str, str], int],
) -> dict[str, int]:
    """Bench of each person, 1 for the first; whoever was at a bench stays there if it fits."""
    kinds = (crew.leads, crew.alone, crew.learners)
    sizes = bench_sizes(problem, station, (len(kinds[0]), len(kinds[1]), len(kinds[2])), opened)
    at: dict[str, int] = {}
    for kind, people in enumerate(kinds):
        left = [bench[kind] for bench in sizes]
        rest = []
        for person in people:
            bench = before.get((person, station.id), 0)
            if 0 < bench <= opened and left[bench - 1]:
                at[person] = bench
                left[bench - 1] -= 1
            else:
                rest.append(person)
        free = [bench + 1 for bench, count in enumerate(left) for _ in range(count)]
        # Not strict: there can be more places than people left.
        at.update(zip(rest, free, strict=False))
    return at


def named(block: int, station: str, crew: Crew, at: dict[str, int]) -> list[Placing]:
    """Placings of a crew, each with what the person does there."""
    taught = {at[person] for person in crew.learners if person in at}
    placings = []
    for person, bench in sorted(at.items()):
        role = Role.LEARNS if person in crew.learners else Role.WORKS
        # Leads is what somebody does beside a learner, not what they could do.
        if person in crew.leads and bench in taught:
            role = Role.LEADS
        placings.append(Placing(person, block, station, bench, role))
    return placings


def watch_of(problem: Problem, placings: list[Placing], seats: Seats) -> tuple[Watching, ...]:
    """The watch of each room with sparks, from the first block it is needed to its end."""
    duties = {each.id for each in problem.stations if each.is_fire_watch}
    fixed = {(each.person, each.block) for each in problem.locks if each.station in duties}
    watchers = [
        (people[0], room, block)
        for (block, (kind, room)), people in sorted(seats.items())
        if kind == "watches"
    ]
    needed = _needed_watch(problem, placings)
    # the model may name a watch before the first sparks or after the end; nobody needs it there
    return tuple(
        watching
        for watching in stretches(problem, placings, watchers)
        if (watching.person, watching.block) in fixed
        or needed.get(watching.room, _NEVER)[0] <= watching.start < needed[watching.room][1]
    )


_NEVER = (LAST_MINUTE + 1, 0)


def stretches(
    problem: Problem, placings: Iterable[Placing], watchers: Iterable[tuple[str, str, int]]
) -> tuple[Watching, ...]:
    """The fire watch with its times, from who watches which room in which block.

    Parameters
    ----------
    watchers
        (person, room, block): from a plan, or as somebody moved them by hand.

    Notes
    -----
    A stretch runs on through the break before the next block, and from the last block to
    the end of the watch, as far as the sparks of the room ask; without sparks it is the block.
    """
    needed, spans = _needed_watch(problem, placings), problem.blocks
    watch = []
    for person, room, block in watchers:
        start, end = spans[block].start, needed.get(room, _NEVER)[1]
        # Through the break as well: embers do not stop for coffee.
        if block + 1 < len(spans):
            end = min(end, spans[block + 1].start)
        until = end if end > start else spans[block].end
        watch.append(Watching(person, room, block, start, until))
    return tuple(watch)


def _needed_watch(problem: Problem, placings: Iterable[Placing]) -> dict[str, tuple[int, int]]:
    """Room -> minutes from its first sparks to the end of the watch after the last."""
    minutes, needed = problem.club.watch_minutes, dict[str, tuple[int, int]]()
    if problem.blocks:
        first = problem.blocks[0].start
        for room, spark in problem.before.sparks.items():
            needed[room] = (first, spark + minutes)
    for placing in placings:
        station = problem.station[placing.station]
        if station.is_hot:
            span = problem.blocks[placing.block]
            start, end = needed.get(station.room, _NEVER)
            needed[station.room] = (min(start, span.start), max(end, span.end + minutes))
    return needed
