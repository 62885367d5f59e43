"""Two plans of a night side by side: what moved, what each makes, what each breaks.

Both are looked at on the facts of now, from the racks as they stand: what a plan promised
when it was made says nothing about what it is worth after an hour of work.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from workshops.nights.changes import Standing
from workshops.nights.differences import Moved, Stand, differences
from workshops.nights.engine.board import Breach
from workshops.nights.engine.deal import stretches
from workshops.nights.engine.making import expected_output
from workshops.nights.engine.output import Output
from workshops.nights.engine.placings import Placing as PlacedAt
from workshops.nights.engine.placings import Role, Watching
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.rules import breaches
from workshops.nights.loading import Loaded
from workshops.nights.models import Change, PlacingRun
from workshops.nights.refusals import NightRefused
from workshops.nights.rest import is_running, rest_of

BOARD = "board"


@dataclass(frozen=True)
class Side:
    """One plan: its label, who stands where, what it makes and what it breaks."""

    label: str
    stands: tuple[Stand, ...]
    output: Output
    breaches: tuple[Breach, ...]

    @property
    def people(self) -> int:
        """How many people it places."""
        return len({each.person for each in self.stands})

    @property
    def sets(self) -> int:
        """Complete sets it adds from now on."""
        return sets_in(self.output)


@dataclass(frozen=True, slots=True)
class Made:
    """Pieces of one operation, as each plan makes them."""

    operation: str
    before: int
    after: int

    @property
    def more(self) -> int:
        """How many more the second makes."""
        return self.after - self.before


@dataclass(frozen=True, slots=True)
class MovedLine:
    """One person's move in words."""

    name: str
    when: str
    was: str
    now: str


@dataclass(frozen=True)
class Compared:
    """Two plans side by side. ``from_block`` is the first block that is counted."""

    before: Side
    after: Side
    made: tuple[Made, ...]
    moved: tuple[MovedLine, ...]
    seats: int


def sets_in(output: Output) -> int:
    """Whole sets that an output adds."""
    before = output.sets_before
    return int(sum(n - before.get(kind, 0.0) for kind, n in output.sets.items()) + 1e-6)


@dataclass(frozen=True)
class Bench:
    """A night on which plans are compared: its problem from now on, and what to call things."""

    loaded: Loaded
    problem: Problem
    first: int
    names: Mapping[int, str]

    @classmethod
    def of(cls, loaded: Loaded, problem: Problem, at: datetime, names: Mapping[int, str]) -> Bench:
        """The night, or while it runs what is left of it."""
        if not is_running(loaded.night, at):
            return cls(loaded, problem, 0, names)
        try:
            rest = rest_of(loaded, at, keeps_current=False)
        except NightRefused:
            return cls(loaded, problem, 0, names)  # the last block is over: the whole night
        left = rest.problem_of(replace(problem, blocks=problem.blocks[rest.first :]))
        return cls(loaded, left, rest.first, names)

    def side(self, label: str, stands: Sequence[Stand]) -> Side:
        """A plan as it is worth on this night."""
        placings, watch = self._placed(stands)
        return Side(
            label, tuple(stands), expected_output(self.problem, placings),
            breaches(self.problem, placings, watch),
        )  # fmt: skip

    def _placed(self, stands: Sequence[Stand]) -> tuple[tuple[PlacedAt, ...], tuple[Watching, ...]]:
        duty = self.problem.watch_station
        known = [
            each
            for each in stands
            if each.block >= self.first
            and str(each.person) in self.problem.person
            and str(each.station) in self.problem.station
        ]
        rooms = {row.pk: str(row.room) for row in self.loaded.stations}
        placings = tuple(
            PlacedAt(str(each.person), each.block - self.first, str(each.station), each.bench,
                     Role(each.role))
            for each in known
            if each.role != Role.WATCHES.value
        )  # fmt: skip
        hot = {
            (each.block, rooms[int(each.station)])
            for each in placings
            if self.problem.station[each.station].is_hot
        }
        watchers = [
            (str(each.person), room, each.block - self.first)
            for each in known
            if each.role == Role.WATCHES.value and duty
            for room in self._watched(each, hot)
        ]
        return placings, stretches(self.problem, placings, watchers)

    def _watched(self, stand: Stand, hot: set[tuple[int, str]]) -> list[str]:
        """The room that a watch looks after: its own, where it is known, else where sparks fly."""
        if stand.room:
            return [stand.room]
        rooms = sorted({room for _, room in hot} | set(self.problem.before.sparks))
        return rooms[:1]


def compare(bench: Bench, before: Side, after: Side) -> Compared:
    """What differs between two plans."""
    moved = differences(before.stands, after.stands)
    made = [
        Made(each.name, _pieces(before, each.id, each.makes_count),
             _pieces(after, each.id, each.makes_count))
        for each in bench.problem.operations
    ]  # fmt: skip
    return Compared(
        before, after,
        tuple(each for each in made if each.before or each.after),
        tuple(_line(bench, each) for each in moved),
        sum(len(each.blocks) for each in moved),
    )  # fmt: skip


def _pieces(side: Side, operation: str, count: int) -> int:
    return int(sum(side.output.made.get(operation, ())) * count + 1e-6)


def _line(bench: Bench, moved: Moved) -> MovedLine:
    stations = {row.pk: row.name for row in bench.loaded.stations}
    blocks = bench.loaded.blocks

    def place(stand: Stand | None) -> str:
        if stand is None:
            return "no place"
        learns = " as a learner" if stand.role == Role.LEARNS.value else ""
        return f"{stations.get(stand.station, 'a station of before')}{learns}"

    when = f"{blocks[moved.blocks[0]].starts:%H:%M}–{blocks[moved.blocks[-1]].ends:%H:%M}"
    name = bench.names.get(moved.person, "somebody")
    return MovedLine(name, when, place(moved.was), place(moved.now))


def stands_of_run(run: PlacingRun, loaded: Loaded) -> list[Stand]:
    """A run's placings; in the blocks before it began, what stands there."""
    duty = next((row.pk for row in loaded.stations if row.kind == "fire_watch"), None)
    count = len(loaded.blocks)
    found = [each for each in stands_now(loaded) if each.block < run.from_block]
    for row in run.result["placings"]:
        found.append(
            Stand(int(row["person"]), row["block"] + run.from_block, int(row["station"]),
                  row["role"], bench=row["bench"])
        )  # fmt: skip
    for row in run.result["watch"] if duty else ():
        assert duty is not None
        found.append(
            Stand(int(row["person"]), row["block"] + run.from_block, duty, Role.WATCHES.value,
                  room=row["room"])
        )  # fmt: skip
    # A night whose times were changed since may have fewer blocks than the run knew.
    return [each for each in found if each.block < count]


def stands_now(loaded: Loaded) -> list[Stand]:
    """What stands on the board."""
    index = {block.pk: position for position, block in enumerate(loaded.blocks)}
    return [
        Stand(row.person_id, index[row.block_id], row.station_id, str(row.role), bench=row.bench,
              room=str(row.room) if row.room else "")
        for row in loaded.placings
    ]  # fmt: skip


def stands_before(change: Change, loaded: Loaded) -> list[Stand]:
    """The board as it was before its latest step."""
    index = {block.pk: position for position, block in enumerate(loaded.blocks)}
    rooms = {row.room_id: str(row.room) for row in loaded.stations}
    was, now = Standing.from_json(change.before), Standing.from_json(change.after)
    touched = {(person, index.get(block)) for person, block in was.seats.keys() | now.seats.keys()}
    kept = [each for each in stands_now(loaded) if (each.person, each.block) not in touched]
    back = [
        Stand(row["person"], index[row["block"]], row["station"], row["role"],
              bench=row["bench"], room=rooms.get(row["room"], ""))
        for row in was.seats.values()
        if row["block"] in index
    ]  # fmt: skip
    return [*kept, *back]
