"""First come, first placed: what a night makes when nobody plans it. The plan has to beat it."""

from __future__ import annotations

from dataclasses import dataclass, field

from workshops.nights.engine import model_gates as gates
from workshops.nights.engine.board import Board, Breach
from workshops.nights.engine.deal import Seats, deal_benches, named, split, watch_of
from workshops.nights.engine.people import Person
from workshops.nights.engine.placings import Placing
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.rules import breaches_of
from workshops.nights.engine.stations import Station
from workshops.nights.engine.stock import Stock


def first_come(problem: Problem) -> Board:
    """A legal placing made in the order of arrival, adults before minors.

    Returns
    -------
    Board
        Everybody takes the free place whose work is worth most by the minute; what then
        stands against a rule is taken out again. Placings fixed by hand are left to the plan.
    """
    people = sorted(problem.people, key=lambda person: (person.arrives, person.id))
    # Sorting keeps the order of equals, so arrival still decides among adults and among minors.
    people.sort(key=lambda person: not problem.is_adult(person))
    watchers = _watchers(problem, people)
    watching = {person.id for person in watchers.values()}
    stock = Stock(problem)
    seats: Seats = {}
    placings: list[Placing] = []
    for block in range(len(problem.blocks)):
        filling = _Filling(problem, block, stock, set(watchers))
        filling.fill([person for person in people if person.id not in watching])
        placings += filling.placings()
        stock.work({each.id: filling.minutes(each) for each in problem.benches})
        for room, person in watchers.items():
            seats[block, ("watches", room)] = [person.id]
    return _without_breaches(problem, placings, seats)


def _watchers(problem: Problem, people: list[Person]) -> dict[str, Person]:
    """For each room that could have sparks, the last to come who can watch it all night."""
    hot = [block for block in problem.blocks if block.end <= problem.last_spark]
    rooms = {station.room for station in problem.benches if station.is_hot} if hot else set()
    rooms -= set(problem.before.straw_rooms)
    watchers: dict[str, Person] = {}
    for room in sorted(rooms | set(problem.before.sparks)):
        taken = {person.id for person in watchers.values()}
        end = max([problem.before.sparks.get(room, 0), *(span.end for span in hot)])
        # The last to come: those before have found work by then.
        for person in reversed(people):
            if person.id not in taken and _can_watch(problem, person, end):
                watchers[room] = person
                break
    return watchers


def _can_watch(problem: Problem, person: Person, last_spark: int) -> bool:
    duty, end = problem.watch_station, last_spark + problem.club.watch_minutes
    if duty is None or not problem.blocks or gates.stops(problem, person, duty):
        return False
    return not person.breaks and person.is_present(problem.blocks[0].start, end)


@dataclass
class _Filling:
    """One block while it fills up."""

    problem: Problem
    block: int
    stock: Stock
    hot_rooms: set[str]
    works: dict[str, list[str]] = field(default_factory=dict)
    learns: dict[str, list[str]] = field(default_factory=dict)
    shut: set[str] = field(default_factory=set)

    def fill(self, people: list[Person]) -> None:
        """Place everybody; empty the stations that came out short of people, and again."""
        waiting = people
        while waiting:
            for person in waiting:
                self._place(person)
            short = [each for each in self.problem.benches if self._is_short(each)]
            freed = {person for each in short for person in self._crew(each)}
            for each in short:
                self.works.pop(each.id, None)
                self.learns.pop(each.id, None)
            self.shut.update(each.id for each in short)
            waiting = [person for person in people if person.id in freed]

    def placings(self) -> list[Placing]:
        """The block as placings at benches."""
        placings: list[Placing] = []
        for station in self.problem.benches:
            if self._crew(station):
                works, learns = self.works.get(station.id, []), self.learns.get(station.id, [])
                crew = split(self.problem, station, works, learns)
                at = deal_benches(self.problem, station, crew, self._opened(station), before={})
                placings += named(self.block, station.id, crew, at)
        return placings

    def _crew(self, station: Station) -> list[str]:
        return [*self.works.get(station.id, []), *self.learns.get(station.id, [])]

    def _opened(self, station: Station, extra: int = 0) -> int:
        # Divided upwards in whole numbers: ten people at benches for four open three.
        return -(-(len(self._crew(station)) + extra) // station.crew_max)

    def _is_short(self, station: Station) -> bool:
        return len(self._crew(station)) < station.crew_least * self._opened(station)

    def _place(self, person: Person) -> None:
        open_to = [each for each in self.problem.benches if self._is_open_to(person, each)]
        if open_to:
            best = max(open_to, key=lambda each: (self._pull(person, each), each.id))
            may_work = gates.may_work(self.problem, person, best)
            places = self.works if may_work else self.learns
            places.setdefault(best.id, []).append(person.id)

    def _pull(self, person: Person, station: Station) -> float:
        """Worth by the minute of the best work there that the crew leaves undone."""
        # Too little to outweigh any piece, enough to choose between places that make none.
        wanted = 0.001 if len(self._crew(station)) < station.wanted else 0.0
        taken = self.minutes(station)
        for worth, minutes in self.stock.useful(station.id):
            # Work that those before will use up anyway pulls nobody.
            taken -= minutes
            if taken < 0:
                return worth * person.rate(station.id) + wanted
        return wanted

    def minutes(self, station: Station) -> float:
        """Minutes of work, as operations are timed, of everybody placed there so far."""
        people, learner = self.problem.person, self.problem.club.learner_rate
        paces = [people[each].rate(station.id) for each in self.works.get(station.id, [])]
        learners = self.learns.get(station.id, [])
        paces += [people[each].rate(station.id) * learner for each in learners]
        return self.problem.blocks[self.block].minutes * sum(paces)

    def _is_open_to(self, person: Person, station: Station) -> bool:
        problem = self.problem
        if station.id in self.shut or self._opened(station, 1) > station.benches:
            return False
        if not self._has_tools(station) or not self._has_floor(station):
            return False
        if station.is_hot and station.room not in self.hot_rooms:
            return False
        if station.has_straw and station.room in self.hot_rooms:
            return False
        if gates.stops(problem, person, station):
            return False
        if gates.stops_in(problem, person, self.block, is_hot=station.is_hot):
            return False
        return gates.may_work(problem, person, station) or self._takes_learner(station)

    def _takes_learner(self, station: Station) -> bool:
        """One bench with one lead takes learners: first come, nobody thinks it through."""
        works = [self.problem.person[each] for each in self.works.get(station.id, [])]
        leads = [each for each in works if gates.may_lead(self.problem, each, station)]
        learners = len(self.learns.get(station.id, []))
        has_room = self._opened(station, 1) == 1
        return has_room and learners < self.problem.learner_ratio(station) * len(leads)

    def _has_tools(self, station: Station) -> bool:
        if not station.tools or self._opened(station, 1) == self._opened(station):
            return True
        for tool in self.problem.tools:
            used = sum(
                self._opened(each) * each.tools.get(tool.id, 0) for each in self.problem.benches
            )
            if used + station.tools.get(tool.id, 0) > tool.count - tool.out_of_service:
                return False
        return True

    def _has_floor(self, station: Station) -> bool:
        most = self.problem.floor_places
        if most is None or station.is_off_floor:
            return True
        benches = self.problem.benches
        on_floor = sum(len(self._crew(each)) for each in benches if not each.is_off_floor)
        # Each room with sparks has a watcher standing in it.
        return on_floor + len(self.hot_rooms) < most


def _without_breaches(problem: Problem, placings: list[Placing], seats: Seats) -> Board:
    """Take out whoever stands against a rule until nothing does."""
    while True:
        board = Board(problem, tuple(placings), watch_of(problem, placings, seats))
        # Who came first knows of nothing fixed by hand, so that is no fault here.
        found = [each for each in breaches_of(board) if each.rule != "locks_kept"]
        left = [each for each in placings if not any(_touches(each, breach) for breach in found)]
        if len(left) == len(placings):
            return board
        placings = left


def _touches(placing: Placing, breach: Breach) -> bool:
    if breach.block is not None and placing.block != breach.block:
        return False
    if breach.station is not None and placing.station != breach.station:
        return False
    return not breach.people or placing.person in breach.people
