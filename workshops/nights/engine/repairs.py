"""The cheapest change of facts that opens a station: whom to ask, what to mend, whom to free.

Only facts that a person can change are offered. Bars, ages, levels, ratios, the watch and
every other rule stay as they are, and every offer is tried against all of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum

from workshops.nights.engine import model_gates as gates
from workshops.nights.engine.assembly import assemble
from workshops.nights.engine.board import spell_minute
from workshops.nights.engine.model import Model
from workshops.nights.engine.model_locks import lock_columns
from workshops.nights.engine.people import LAST_MINUTE, Level, Person, Span
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.stations import Station
from workshops.nights.engine.tonight import ENOUGH, opened_somewhere, require_open


class Fact(Enum):
    """What could be changed, cheapest first."""

    BREAK = "move a break"
    LOCK = "free somebody fixed by hand"
    STAY = "ask somebody to be here longer"
    COME = "ask somebody to come"
    TOOL = "mend or borrow a tool"
    RE_SIGN = "have somebody re-signed"


_TOOLS = frozenset({"tool_count", "out_of_service"})
_COST = {
    Fact.BREAK: 1, Fact.LOCK: 1, Fact.STAY: 2, Fact.COME: 3, Fact.TOOL: 3, Fact.RE_SIGN: 4,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Change:
    """One fact to change: ``person``, ``station`` and ``tool`` are ids where they apply."""

    fact: Fact
    text: str
    person: str | None = None
    station: str | None = None
    tool: str | None = None
    block: int | None = None


def cheapest_changes(small: Problem, station: str) -> tuple[Change, ...]:
    """Changes that together open the station, at the least cost; empty: none would.

    Parameters
    ----------
    small
        The night cut down to the station.

    Notes
    -----
    Everybody as they could be at best, each placing linked to the changes that it rests on;
    minors stay as they are and out of it, so that no offer leans on their supervision.
    """
    adults = [person for person in small.people if small.is_adult(person)]
    at_best = replace(small, people=tuple(_at_best(small, each) for each in adults), locks=())
    model = assemble(at_best, _TOOLS, is_making=False, are_single=True)
    if not require_open(model, station):
        return ()
    offers = _Offers(small, model)
    offers.link_people()
    offers.link_tools()
    offers.link_locks()
    solution = model.programme.solve(ENOUGH)
    if not solution.has_values():
        return ()
    taken = [each for each, column in offers.columns.items() if solution.values[column] > 0.5]
    changes = tuple(sorted(taken, key=lambda each: (_COST[each.fact], each.text)))
    return changes if opened_somewhere(changed(small, changes), station) else ()


def changed(problem: Problem, changes: tuple[Change, ...]) -> Problem:
    """The night after the changes."""
    people = {person.id: person for person in problem.people}
    tools = {tool.id: tool for tool in problem.tools}
    locks = list(problem.locks)
    for each in changes:
        if each.fact is Fact.TOOL and each.tool:
            tools[each.tool] = replace(tools[each.tool], count=tools[each.tool].count + 1)
        elif each.fact is Fact.LOCK:
            spot = (each.person, each.block)
            locks = [lock for lock in locks if (lock.person, lock.block) != spot]
        elif each.person:
            people[each.person] = _after(problem, people[each.person], each)
    return replace(
        problem,
        people=tuple(people.values()),
        tools=tuple(tools.values()),
        locks=tuple(locks),
    )


def _after(problem: Problem, person: Person, change: Change) -> Person:
    if change.fact is Fact.BREAK:
        return replace(person, breaks=tuple(b for b in person.breaks if b != change.block))
    if change.fact is Fact.RE_SIGN:
        return _re_signed(person, {change.station or ""})
    start = min([problem.blocks[0].start, *(span.start for span in person.present)])
    end = max([problem.lock_up, *(span.end for span in person.present)])
    return replace(person, present=(Span(start, end),))


def _re_signed(person: Person, trainings: set[str]) -> Person:
    lines = tuple(
        replace(line, valid_until=None) if line.station in trainings else line
        for line in person.sign_offs
    )
    return replace(person, sign_offs=lines)


def _at_best(small: Problem, person: Person) -> Person:
    trainings = {
        line.station
        for line in person.sign_offs
        if _is_lapsed(small, person, line.station) and _signer(small, person, line.station)
    }
    here = replace(person, present=(Span(0, LAST_MINUTE),), breaks=(), guardians=())
    return _re_signed(here, trainings)


def _is_lapsed(problem: Problem, person: Person, training: str) -> bool:
    line = person.sign_off(training)
    return line is not None and gates.level_tonight(problem, person, training) is None


def _signer(problem: Problem, person: Person, training: str) -> Person | None:
    """Somebody else here tonight who may sign people off for it."""
    for other in problem.people:
        level = gates.level_tonight(problem, other, training)
        may_sign = level is Level.MAY_SIGN and not gates.is_barred(problem, other, training)
        if other.present and other.id != person.id and may_sign:
            return other
    return None


class _Offers:
    """A column for every change, and the rows that make placings rest on them."""

    def __init__(self, small: Problem, model: Model) -> None:
        self.small = small
        self.model = model
        self.columns: dict[Change, int] = {}

    def column(self, change: Change) -> int:
        """The column of a change, made when first asked for."""
        if change not in self.columns:
            cost = -float(_COST[change.fact])
            self.columns[change] = self.model.programme.binary(cost)
        return self.columns[change]

    def link_people(self) -> None:
        """Nobody stands anywhere before what has to change for it."""
        duty = self.small.watch_station
        for block, station in self.model.slots():
            for number, column in self.model.at(block, station.id):
                self._link(number, column, block, station)
        if duty is None:
            return
        for (block, _), columns in self.model.watches.items():
            for number, column in columns.items():
                self._link(number, column, block, duty)

    def _link(self, number: int, column: int, block: int, station: Station) -> None:
        person = self.small.person[self.model.groups[number].first.id]
        for change in self._needed(person, block, station):
            self.model.programme.row({column: 1.0, self.column(change): -1.0}, upper=0)

    def _needed(self, person: Person, block: int, station: Station) -> Iterator[Change]:
        start, end = self.small.blocks[block].start, self._end(block, station)
        if not person.present:
            yield Change(Fact.COME, f"Ask {person.name} to come.", person.id)
        elif not person.is_present(start, end):
            times = f"{spell_minute(start)} to {spell_minute(self.small.lock_up)}"
            yield Change(Fact.STAY, f"Ask {person.name} to be here from {times}.", person.id)
        if block in person.breaks:
            at = spell_minute(start)
            text = f"Move {person.name}'s break out of the block from {at}."
            yield Change(Fact.BREAK, text, person.id, block=block)
        for training in (station.id, *station.prerequisites):
            signer = _signer(self.small, person, training)
            if signer and _is_lapsed(self.small, person, training):
                known = self.small.station.get(training)
                text = f"Have {person.name} re-signed for {known.name if known else training}"
                text = f"{text} by {signer.name}, who may sign."
                yield Change(Fact.RE_SIGN, text, person.id, station=training)

    def _end(self, block: int, station: Station) -> int:
        """Until when somebody who stands there has to be here."""
        spans = self.small.blocks
        if not station.is_fire_watch:
            return spans[block].end
        return spans[block + 1].start if block + 1 < len(spans) else self.small.lock_up

    def link_tools(self) -> None:
        """A bench more than the tools allow rests on one mended or borrowed."""
        for tool in self.small.tools:
            text = f"Mend or borrow one more of {tool.name}."
            for block in range(len(self.small.blocks)):
                row = {
                    column: float(self.small.station[name].tools[tool.id])
                    for (at, name), column in self.model.opens.items()
                    if at == block and tool.id in self.small.station[name].tools
                }
                if row:
                    row[self.column(Change(Fact.TOOL, text, tool=tool.id))] = -1.0
                    self.model.programme.row(row, upper=tool.count - tool.out_of_service)

    def link_locks(self) -> None:
        """What was fixed by hand stays, or somebody frees it."""
        numbers = {group.first.id: number for number, group in enumerate(self.model.groups)}
        for lock in self.small.locks:
            if lock.person not in numbers:
                continue
            name = self.small.person[lock.person].name
            station = self.small.station[lock.station].name
            at = spell_minute(self.small.blocks[lock.block].start)
            text = f"Free {name}, fixed at {station} from {at}."
            change = Change(Fact.LOCK, text, lock.person, lock.station, block=lock.block)
            row = self.model.sum_of(lock_columns(self.model, lock, numbers[lock.person]))
            self.model.programme.row({**row, self.column(change): 1.0}, lower=1)
