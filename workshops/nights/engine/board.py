"""A plan laid out for looking things up: who is where in a block, which benches are open."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from workshops.nights.engine.people import Level, Person
from workshops.nights.engine.placings import Placing, Role, Watching
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.stations import Station


@dataclass(frozen=True, slots=True)
class Breach:
    """One hard rule broken at one spot, in words for a page.

    ``block`` and ``station`` are none where the breach belongs to the whole night or to no
    station; ``people`` are ids.
    """

    rule: str
    message: str
    people: tuple[str, ...] = ()
    block: int | None = None
    station: str | None = None


@dataclass(frozen=True, slots=True)
class Stint:
    """One person doing one thing in one block, the fire watch included."""

    person: Person
    station: Station
    block: int
    start: int
    end: int
    role: Role


@dataclass(frozen=True)
class Board:
    """A plan, or one that somebody is editing by hand. ``made`` as in the output of a plan."""

    problem: Problem
    placings: tuple[Placing, ...] = ()
    watch: tuple[Watching, ...] = ()
    made: Mapping[str, tuple[float, ...]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for placing in self.placings:
            if placing.station not in self.problem.station:
                raise ValueError(f"placings: no station {placing.station!r}")
            if self.problem.station[placing.station].is_fire_watch:
                raise ValueError("placings: the fire watch stands in watch, not in placings")
            self._check_known(placing.person, placing.block)
        for each in self.watch:
            self._check_known(each.person, each.block)

    def _check_known(self, person: str, block: int) -> None:
        if person not in self.problem.person:
            raise ValueError(f"no person {person!r} tonight")
        if not 0 <= block < len(self.problem.blocks):
            raise ValueError(f"no block {block} tonight")

    @cached_property
    def stints(self) -> tuple[Stint, ...]:
        """Everything that people do, by block, then by person."""
        found = [*map(self._placed, self.placings), *self._watched()]
        return tuple(sorted(found, key=lambda each: (each.block, each.person.id, each.station.id)))

    def _placed(self, placing: Placing) -> Stint:
        block = self.problem.blocks[placing.block]
        return Stint(
            person=self.problem.person[placing.person],
            station=self.problem.station[placing.station],
            block=placing.block,
            start=block.start,
            end=block.end,
            role=placing.role,
        )

    def _watched(self) -> Iterator[Stint]:
        duty = self.problem.watch_station
        for each in self.watch if duty else ():
            assert duty is not None
            yield Stint(
                person=self.problem.person[each.person],
                station=duty,
                block=each.block,
                start=each.start,
                # The block is lost to other work even when the watch ends inside it.
                end=max(each.end, self.problem.blocks[each.block].end),
                role=Role.WATCHES,
            )

    @cached_property
    def by_block(self) -> dict[int, list[Stint]]:
        """Stints of each block."""
        return _by_block(self.stints)

    @cached_property
    def by_bench(self) -> dict[tuple[int, str, int], list[Placing]]:
        """Placings of each open bench: (block, station, bench)."""
        grouped: dict[tuple[int, str, int], list[Placing]] = defaultdict(list)
        for placing in self.placings:
            grouped[placing.block, placing.station, placing.bench].append(placing)
        return dict(sorted(grouped.items()))

    @cached_property
    def open_benches(self) -> dict[tuple[int, str], int]:
        """How many benches of a station are open in a block: (block, station)."""
        # Counted from who stands there and not from what the solver opened: an edit by hand opens
        # benches.
        counts: dict[tuple[int, str], int] = defaultdict(int)
        for block, station, _ in self.by_bench:
            counts[block, station] += 1
        return dict(counts)

    def hot_blocks(self, room: str) -> list[int]:
        """Blocks in which sparks fly in the room, first one first."""
        stations = self.problem.station
        at_work = {
            placing.block
            for placing in self.placings
            if stations[placing.station].is_hot and stations[placing.station].room == room
        }
        return sorted(at_work)

    @cached_property
    def hot_rooms(self) -> list[str]:
        """Rooms with sparks tonight, before the first block or in the plan."""
        stations = map(self.problem.station.__getitem__, {each.station for each in self.placings})
        rooms = {station.room for station in stations if station.is_hot}
        # Sparks before the plan was made again still glow: their room needs its watch.
        return sorted(rooms | set(self.problem.before.sparks))


def _by_block(stints: Iterable[Stint]) -> dict[int, list[Stint]]:
    grouped: dict[int, list[Stint]] = defaultdict(list)
    for stint in stints:
        grouped[stint.block].append(stint)
    return dict(grouped)


def spell_minute(minute: int) -> str:
    """A time of day as people read it: ``18:05``; past midnight it starts again at 0:00."""
    # Minutes run on past midnight, so that a watch until 0:30 ends after it began.
    return f"{minute // 60 % 24}:{minute % 60:02d}"


def spell_day(day: str | None) -> str:
    """A day as people read it: ``2031-01-16`` as ``16 January 2031``; nothing for none."""
    if day is None:
        return ""
    when = date.fromisoformat(day)
    return f"{when.day} {when:%B %Y}"


def spell_names(names: Iterable[str]) -> str:
    """Names in a row: ``Ada, Bo and Cy``."""
    listed = list(names)
    if len(listed) < 2:
        return "".join(listed)
    return f"{', '.join(listed[:-1])} and {listed[-1]}"


def is_current(problem: Problem, person: Person, training: str) -> bool:
    """Whether the person's line in the register counts on the night, at any level."""
    sign_off = person.sign_off(training)
    if sign_off is None:
        return False
    # Days as text in the order of ISO 8601, which sorts as days do.
    return sign_off.valid_until is None or sign_off.valid_until >= problem.date


def current_level(problem: Problem, person: Person, training: str) -> Level | None:
    """The level that counts on the night; none: no sign-off, or one that has ended."""
    sign_off = person.sign_off(training)
    return sign_off.level if sign_off and is_current(problem, person, training) else None
