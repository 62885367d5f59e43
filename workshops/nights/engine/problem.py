"""One night to place: everything the engine knows, refused at birth where it makes no sense.

Minutes are whole minutes after midnight of the night's date. Ids are text, unlike one another
within their kind. The order of people, stations and so on does not matter: it is sorted here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from inventory.engines import strict
from workshops.nights.engine.people import (
    LAST_MINUTE,
    Bar,
    Level,
    Person,
    SignOff,
    Span,
    check_date,
    check_once,
    put,
)
from workshops.nights.engine.placings import Beside, Lock, Role
from workshops.nights.engine.stations import Material, Operation, Piece, SetKind, Station, Tool

__all__ = [
    "Bar", "Beside", "ClubRules", "Level", "Lock", "Material", "Operation", "Person", "Piece",
    "Problem", "Role", "SetKind", "SignOff", "Span", "Station", "Tool",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class ClubRules:
    """What the club decided; each value is the club's own, from local codes and its insurer.

    Parameters
    ----------
    adult_age
        Whole years from which a person is an adult.
    learner_ratio
        Learners per lead at one bench, 0 to 20.
    learner_rate
        Pace of a learner against their own rate, 0 to 1.
    watch_minutes
        How long the fire watch lasts after the last spark, 0 to 600.
    minor_latest
        Minute by which a minor's last block has ended; none: no limit.
    minor_max_minutes
        Most minutes of work of a minor in one night; none: no limit.
    minors_per_adult
        Minors at work in a block per adult who can supervise then (in the building, not
        behind a hood, not on the fire watch); none: no limit, but at least one such adult.
    guardian_required
        A minor works only in blocks in which one of their guardians can supervise.
    """

    adult_age: int = 18
    learner_ratio: int = 2
    learner_rate: float = 0.5
    watch_minutes: int = 60
    minor_latest: int | None = None
    minor_max_minutes: int | None = None
    minors_per_adult: int | None = 5
    guardian_required: bool = False

    def __post_init__(self) -> None:
        ranges = {
            "adult_age": (0, 130), "learner_ratio": (0, 20), "learner_rate": (0, 1),
            "watch_minutes": (0, 600), "minor_latest": (0, LAST_MINUTE),
            "minor_max_minutes": (0, LAST_MINUTE), "minors_per_adult": (0, 1000),
        }  # fmt: skip
        for name, (least, most) in ranges.items():
            value = getattr(self, name)
            if value is not None and not least <= value <= most:
                raise ValueError(f"{name} must be {least} to {most}, not {value}")


@dataclass(frozen=True, slots=True)
class Before:
    """What was already done tonight when the plan starts in mid-night (a re-plan from now).

    Parameters
    ----------
    sparks
        Room -> minute of the last spark there; the watch of that room goes on from it.
    straw_rooms
        Rooms in which straw or hay was handled tonight.
    """

    sparks: dict[str, int] = field(default_factory=dict)
    straw_rooms: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for room, minute in self.sparks.items():
            if not 0 <= minute <= LAST_MINUTE:
                raise ValueError(f"sparks: {room} must be 0 to {LAST_MINUTE}, not {minute}")
        put(self, "sparks", dict(sorted(self.sparks.items())))
        put(self, "straw_rooms", tuple(sorted(set(self.straw_rooms))))


@dataclass(frozen=True)
class Problem:
    """A night to place.

    Parameters
    ----------
    date
        The night, as ``2031-01-16``: sign-offs and bars are looked at on this day.
    blocks
        Time blocks, apart from one another; a break of the whole shop is the gap between two.
    lock_up
        Minute at which the door is locked; not before the last block ends. Last spark is
        lock-up minus the club's watch.
    locks
        Placings fixed by hand; kept, or refused with the name of the rule.
    previous
        Placings of the plan that people already know (people who left may stand in it).
        Not empty: a re-plan, in which every change is charged.
    floor_places
        Most people on the floor in one block, the fire watch included; none: no limit.
    beside
        Learners and the leads at whose bench they are to stand when both are at the station.
        Nobody is placed for it: ``locks`` do that.
    """

    date: str
    blocks: tuple[Span, ...]
    lock_up: int
    club: ClubRules = ClubRules()
    people: tuple[Person, ...] = ()
    stations: tuple[Station, ...] = ()
    tools: tuple[Tool, ...] = ()
    operations: tuple[Operation, ...] = ()
    pieces: tuple[Piece, ...] = ()
    materials: tuple[Material, ...] = ()
    sets: tuple[SetKind, ...] = ()
    locks: tuple[Lock, ...] = ()
    previous: tuple[Lock, ...] = ()
    floor_places: int | None = None
    before: Before = Before()
    beside: tuple[Beside, ...] = ()

    def __post_init__(self) -> None:
        check_date(self.date, "date")
        if self.floor_places is not None and self.floor_places < 0:
            raise ValueError(f"floor_places must not be negative, not {self.floor_places}")
        self._check_times()
        for name in ("people", "stations", "tools", "operations", "pieces", "materials", "sets"):
            rows = getattr(self, name)
            check_once([row.id for row in rows], f"{name}: id")
            put(self, name, tuple(sorted(rows, key=lambda row: row.id)))
        for name in ("locks", "previous"):
            rows = sorted(getattr(self, name), key=lambda row: (row.block, row.person, row.station))
            put(self, name, tuple(rows))
        put(self, "beside", tuple(sorted(self.beside)))
        check_names(self)

    def _check_times(self) -> None:
        put(self, "blocks", tuple(sorted(self.blocks)))
        for i in range(1, len(self.blocks)):
            if self.blocks[i].start < self.blocks[i - 1].end:
                raise ValueError(f"blocks: number {i + 1} starts before number {i} ends")
        end = self.blocks[-1].end if self.blocks else 0
        if not end <= self.lock_up <= LAST_MINUTE:
            raise ValueError(
                f"lock_up must be {end} (the end of the last block) to {LAST_MINUTE}, "
                f"not {self.lock_up}"
            )

    @cached_property
    def last_spark(self) -> int:
        """Minute by which all hot work has ended: lock-up minus the watch."""
        return self.lock_up - self.club.watch_minutes

    @cached_property
    def person(self) -> dict[str, Person]:
        """People by id."""
        return {person.id: person for person in self.people}

    @cached_property
    def station(self) -> dict[str, Station]:
        """Stations by id, the fire watch among them."""
        return {station.id: station for station in self.stations}

    @cached_property
    def watch_station(self) -> Station | None:
        """The duty of the fire watch; none (or closed): nobody watches, so nothing hot is done."""
        open_duties = (each for each in self.stations if each.is_fire_watch)
        return next((each for each in open_duties if not each.closed_because), None)

    @cached_property
    def benches(self) -> tuple[Station, ...]:
        """Stations at which people are placed: all but the fire watch."""
        return tuple(each for each in self.stations if not each.is_fire_watch)

    @cached_property
    def short_blocks(self) -> tuple[int, ...]:
        """Blocks in which more people are here than the floor holds."""
        if self.floor_places is None:
            return ()
        return tuple(
            block
            for block, span in enumerate(self.blocks)
            if sum(each.is_present(span.start, span.end) for each in self.people)
            > self.floor_places
        )

    @cached_property
    def spare_jobs(self) -> tuple[Station, ...]:
        """Jobs off the floor that anybody may do and that make nothing; none fixed by hand."""
        asked = {each.station for each in self.operations} | {each.station for each in self.locks}
        return tuple(each for each in self.benches if each.is_spare_job and each.id not in asked)

    def is_adult(self, person: Person) -> bool:
        """Whether the club counts the person as an adult."""
        return person.is_adult(self.club.adult_age)

    def learner_ratio(self, station: Station) -> int:
        """Learners per lead at one bench of the station."""
        ratio = station.learner_ratio
        return self.club.learner_ratio if ratio is None else ratio

    def to_json(self) -> dict[str, Any]:
        """Plain values, ready for ``json.dump``."""
        plain: dict[str, Any] = strict.to_json(self)
        return plain

    @classmethod
    def from_json(cls, raw: object) -> Problem:
        """A problem from what ``json.load`` gave.

        Raises
        ------
        inventory.engines.strict.ProblemRefused
            Naming the key and the reason.
        """
        return strict.from_json(cls, raw)


def check_names(problem: Problem) -> None:
    """Refuse every id that names nothing, and a set worth less than its parts."""
    stations = {station.id for station in problem.stations}
    people = {person.id for person in problem.people}
    tools = {tool.id for tool in problem.tools}
    for person in problem.people:
        _check_known(person.guardians, people, f"people: {person.id}: guardians")
        _check_person(problem, person)
    for station in problem.stations:
        _check_known(station.tools, tools, f"stations: {station.id}: tools")
    for lock in problem.locks:
        _check_known([lock.person], people, "locks: person")
        _check_known([lock.station], stations, "locks: station")
        _check_lock(problem, lock)
    for pair in problem.beside:
        _check_known([pair.learner, pair.lead], people, "beside: person")
        _check_known([pair.station], stations, "beside: station")
    if sum(station.is_fire_watch for station in problem.stations) > 1:
        raise ValueError("stations: only one can be the fire watch")
    _check_making(problem, stations)


def _check_lock(problem: Problem, lock: Lock) -> None:
    if not 0 <= lock.block < len(problem.blocks):
        raise ValueError(f"locks: block {lock.block} is not one of {len(problem.blocks)}")
    if lock.role and (lock.role is Role.WATCHES) != problem.station[lock.station].is_fire_watch:
        raise ValueError(f"locks: role {lock.role.value} does not go with {lock.station!r}")


def _check_making(problem: Problem, stations: set[str]) -> None:
    pieces = {piece.id for piece in problem.pieces}
    materials = {material.id for material in problem.materials}
    for operation in problem.operations:
        where = f"operations: {operation.id}"
        _check_known([operation.station], stations, f"{where}: station")
        _check_known([operation.makes, *operation.uses], pieces, f"{where}: piece")
        _check_known(operation.materials, materials, f"{where}: materials")
    for kind in problem.sets:
        _check_known(kind.parts, pieces, f"sets: {kind.id}: parts")
        _check_set(problem, kind)


def _check_person(problem: Problem, person: Person) -> None:
    for block in person.breaks:
        if not 0 <= block < len(problem.blocks):
            raise ValueError(f"people: {person.id}: breaks: no block {block}")
    for guardian in person.guardians:
        adult = next(each for each in problem.people if each.id == guardian)
        if not problem.is_adult(adult) or guardian == person.id:
            raise ValueError(f"people: {person.id}: guardians: {guardian!r} is no other adult")


def _check_set(problem: Problem, kind: SetKind) -> None:
    worth = {piece.id: piece.worth for piece in problem.pieces}
    loose = sum(worth[piece] * count for piece, count in kind.parts.items())
    if not loose < kind.worth < float("inf"):
        raise ValueError(f"sets: {kind.id}: worth must be more than its loose parts, {loose:g}")


def _check_known(names: Iterable[str], known: set[str], where: str) -> None:
    for name in names:
        if name not in known:
            raise ValueError(f"{where}: {name!r} is not in the problem")
