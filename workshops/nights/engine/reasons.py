"""One sentence for each placing, each stretch of the watch and each person without a place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

from workshops.nights.engine import model_gates as gates
from workshops.nights.engine.board import Board, spell_day, spell_minute, spell_names
from workshops.nights.engine.output import Output
from workshops.nights.engine.people import Person
from workshops.nights.engine.placings import Placing, Role, Watching
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.rules import title
from workshops.nights.engine.stations import Station

QUICK = 1.15  # pace from which somebody is said to be quick
ABOUT_NONE = 0.05  # expected runs below this are not worth a word
_LACKS = {
    "sign_off": "no current sign-off at the level asked",
    "barred": "a bar is in force",
    "prerequisites": "a sign-off that others build on is missing",
    "minimum_age": "under the age asked",
    "personal_limits": "against a personal limit",
}


@dataclass(frozen=True, slots=True)
class Idle:
    """Somebody who is here in a block and has no place, and why."""

    person: str
    block: int
    reason: str


@dataclass(frozen=True)
class Reasons:
    """The sentences of one plan, or of a board that is moved by hand."""

    board: Board
    output: Output = field(default_factory=Output)
    is_by_hand: bool = False  # then an empty place is nobody's decision

    @property
    def problem(self) -> Problem:
        """The night."""
        return self.board.problem

    def why(self, placing: Placing) -> str:
        """Why this person stands there, in one sentence."""
        person = self.problem.person[placing.person]
        station = self.problem.station[placing.station]
        reasons = list(self._reasons(placing, person, station))[:2]
        return f"{person.name} {_verb(placing)} {station.name}: {'; '.join(reasons)}."

    def _reasons(self, placing: Placing, person: Person, station: Station) -> Iterator[str]:
        if (person.id, placing.block, station.id) in self._fixed:
            yield "fixed by hand"
        if placing.role is Role.LEARNS:
            leads = self._leads_of(placing)
            yield f"beside {leads}, who may lead" if leads else "but nobody there may lead now"
        if (person.id, placing.block, station.id) in self._known:
            yield "as in the plan people know"
        if station.is_off_floor and placing.block in self.problem.short_blocks:
            yield f"the floor holds {self.problem.floor_places}, and it is their turn off it"
        others = self._free_for(placing.block, station) - {person.id}
        if station.level_needed and not others:
            yield "nobody else free then is signed off for it"
        if station.id in person.likes:
            yield "a station they like"
        if person.rate(station.id) >= QUICK:
            yield f"{person.rate(station.id):g} times as quick there as timed"
        if placing.role is Role.LEADS:
            yield "leads the learners at the bench"
        yield from self._made(placing.block, station)
        line = person.sign_off(station.id) if station.level_needed else None
        if line:
            yield f"signed off{f' until {spell_day(line.valid_until)}' if line.valid_until else ''}"
        yield "free then, and no rule stops it"

    def _made(self, block: int, station: Station) -> Iterator[str]:
        made = []
        for each in self.problem.operations:
            runs = self.output.made.get(each.id, ())
            if each.station == station.id and len(runs) > block and runs[block] > ABOUT_NONE:
                made.append(f"{each.name} about {runs[block] * each.makes_count:.0f}")
        if made:
            yield f"the crew is to make {spell_names(made)}"

    def _leads_of(self, placing: Placing) -> str:
        crew = self.board.by_bench[placing.block, placing.station, placing.bench]
        people, station = self.problem.person, self.problem.station[placing.station]
        leads = [
            people[each.person].name
            for each in crew
            if each.role is not Role.LEARNS
            and gates.may_lead(self.problem, people[each.person], station)
        ]
        return spell_names(leads)

    def why_watching(self, watching: Watching) -> str:
        """Why this person keeps the fire watch then, in one sentence."""
        name = self.problem.person[watching.person].name
        times = f"{spell_minute(watching.start)} to {spell_minute(watching.end)}"
        is_last = watching.block + 1 == len(self.problem.blocks)
        stays = "stays to the end of the watch" if is_last else "has no other work then"
        return f"{name} keeps the fire watch from {times}: signed off for it, and {stays}."

    @cached_property
    def _fixed(self) -> set[tuple[str, int, str]]:
        return {(lock.person, lock.block, lock.station) for lock in self.problem.locks}

    @cached_property
    def _known(self) -> set[tuple[str, int, str]]:
        return {(each.person, each.block, each.station) for each in self.problem.previous}

    @cached_property
    def _able(self) -> dict[str, set[str]]:
        """Station -> people whom no rule about one person keeps from working there."""
        problem = self.problem
        return {
            station.id: {
                person.id
                for person in problem.people
                if not gates.stops(problem, person, station)
                and gates.may_work(problem, person, station)
            }
            for station in problem.benches
        }

    @cached_property
    def _here(self) -> dict[tuple[int, bool], set[str]]:
        """(block, whether hot) -> people who may work then."""
        return {
            (block, is_hot): {
                person.id
                for person in self.problem.people
                if not gates.stops_in(self.problem, person, block, is_hot=is_hot)
            }
            for block in range(len(self.problem.blocks))
            for is_hot in (False, True)
        }

    def _free_for(self, block: int, station: Station) -> set[str]:
        """People who might have worked there: able, here and not at the same station."""
        crew = {
            each.person
            for each in self.board.placings
            if (each.block, each.station) == (block, station.id)
        }
        return (self._able[station.id] & self._here[block, station.is_hot]) - crew

    @cached_property
    def idle(self) -> tuple[Idle, ...]:
        """Everybody who is here in a block without a place, by block and name."""
        return tuple(
            Idle(person.id, block, self._why_idle(person, block))
            for block, span in enumerate(self.problem.blocks)
            for person in self.problem.people
            if person.is_present(span.start, span.end)
            and block not in person.breaks
            and person.id not in {stint.person.id for stint in self.board.by_block.get(block, [])}
        )

    def _why_idle(self, person: Person, block: int) -> str:
        stopped = gates.stops_in(self.problem, person, block, is_hot=False)
        if stopped:
            return f"{title(stopped[0])}."
        stations = [each for each in self.problem.benches if not each.closed_because]
        open_to = [each for each in stations if not gates.stops(self.problem, person, each)]
        if not open_to:
            everywhere = [bar.reason for bar in person.bars if bar.station is None and bar.reason]
            if everywhere and all(
                gates.is_barred(self.problem, person, each.id) for each in stations
            ):
                return f"No station is open to {person.name} tonight: {everywhere[0].rstrip('.')}."
            rules = [gates.stops(self.problem, person, each)[0] for each in stations]
            most = Counter(rules).most_common(1)
            reason = _LACKS.get(most[0][0], title(most[0][0])) if most else "none has a bench"
            return f"No station is open to {person.name} tonight: {reason}."
        if self._is_floor_full(block):
            return (
                f"The floor is full with {self.problem.floor_places} people, and no job off it "
                f"is free for {person.name} then."
            )
        names = spell_names(each.name for each in open_to[:3])
        more = f" (and {len(open_to) - 3} more)" if len(open_to) > 3 else ""
        if self.is_by_hand:
            return f"Nobody has placed {person.name} then. No rule about them stops {names}{more}."
        minor = "" if self.problem.is_adult(person) else ", or nobody free to look after them"
        return f"Nothing more to do or no free place then at {names}{more}{minor}."

    def _is_floor_full(self, block: int) -> bool:
        most, stints = self.problem.floor_places, self.board.by_block.get(block, [])
        return most is not None and sum(not each.station.is_off_floor for each in stints) >= most


def _verb(placing: Placing) -> str:
    return "learns at" if placing.role is Role.LEARNS else "is at"
