"""From how many to who and where: groups to people, people to benches; who can stay, stays."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from workshops.nights.engine import model_gates as gates
from workshops.nights.engine.model import Model
from workshops.nights.engine.people import Person
from workshops.nights.engine.placings import Placing, Role, Watching
from workshops.nights.engine.problem import Problem
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
            at = deal_benches(model.problem, model.problem.station[station], crew, opened, benches)
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
    known = {(each.person, each.block): each.station for each in model.problem.previous}
    for block in range(len(model.problem.blocks)):
        for number, group in enumerate(model.groups):
            counts = _counts(model, number, block, values)
            # Anew in each block: everybody of the group can stand in one place again.
            left = list(group.members)
            for person, place in _who_goes(model.problem, left, counts, block, known, stood):
                seats.setdefault((block, place), []).append(person.id)
                stood[person.id] = place
    return seats


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
    problem: Problem,
    people: list[Person],
    counts: dict[Place, int],
    block: int,
    known: dict[tuple[str, int], str],
    stood: dict[str, Place],
) -> list[tuple[Person, Place]]:
    """Fill the places with people of one group: first those who know the place already."""
    duty = problem.watch_station

    def knows(person: Person, place: Place) -> bool:
        station = duty.id if duty and place[0] == "watches" else place[1]
        return known.get((person.id, block)) == station

    def stays(person: Person, place: Place) -> bool:
        return stood.get(person.id) == place

    found: list[tuple[Person, Place]] = []
    # Whoever was there in the last plan, then whoever just stood there, then anybody.
    for fits in (knows, stays, lambda _person, _place: True):
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
    watch, stations = [], problem.station
    duties = {each.id for each in problem.stations if each.is_fire_watch}
    fixed = {(each.person, each.block) for each in problem.locks if each.station in duties}
    hot: dict[str, list[int]] = {}
    for placing in placings:
        if stations[placing.station].is_hot:
            hot.setdefault(stations[placing.station].room, []).append(placing.block)
    for (block, (kind, room)), people in sorted(seats.items()):
        if kind != "watches":
            continue
        start, end = _needed(problem, room, hot.get(room, []))
        spans = problem.blocks
        if start <= spans[block].start < end:
            # Through the break as well: embers do not stop for coffee.
            until = end if block + 1 == len(spans) else min(end, spans[block + 1].start)
            watch.append(Watching(people[0], room, block, spans[block].start, until))
        elif (people[0], block) in fixed:
            watch.append(Watching(people[0], room, block, spans[block].start, spans[block].end))
    return tuple(watch)


def _needed(problem: Problem, room: str, hot: list[int]) -> tuple[int, int]:
    """Minutes from the first sparks to the end of the watch; 0 and 0 without sparks."""
    minutes = problem.club.watch_minutes
    starts = [problem.blocks[block].start for block in hot]
    ends = [problem.blocks[block].end + minutes for block in hot]
    if room in problem.before.sparks:
        starts.append(problem.blocks[0].start)
        ends.append(problem.before.sparks[room] + minutes)
    return (min(starts), max(ends)) if ends else (0, 0)
