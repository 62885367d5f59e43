"""The board of a night: stations by blocks with who stands where, and every breach at once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from workshops.nights.changes import version_of
from workshops.nights.coming import Coming
from workshops.nights.engine.board import Board, Breach
from workshops.nights.engine.reasons import Reasons
from workshops.nights.engine.rules import RULES, breaches, title
from workshops.nights.loading import Loaded, load
from workshops.nights.models import Block, Night, Placing
from workshops.nights.sentences import sentences
from workshops.nights.translate import closed_because
from workshops.people.names import short_names
from workshops.stations.models import Station

NOBODY = "nobody is placed here"
ANSWERS = ["yes", "maybe", "no"]
OF_A_ROOM = ("fire_watch", "hot_and_straw")  # told at the stations of the room


@dataclass(frozen=True, slots=True)
class Seat:
    """One person at one station in one block, with what is wrong there."""

    placing: Placing
    name: str
    troubles: tuple[str, ...] = ()
    why: str = ""


@dataclass(frozen=True, slots=True)
class Spare:
    """Somebody who is here in a block and has no place, and why."""

    person_id: int
    short_name: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class OffFloor:
    """Somebody for whom the floor has no room in a block: their job off it, or why none."""

    name: str
    job: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class Cell:
    """One station in one block."""

    block: Block
    seats: tuple[Seat, ...] = ()
    troubles: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Row:
    """One station over the night: ``open``, ``short`` (something is broken) or ``closed``."""

    station: Station
    state: str
    reason: str
    cells: tuple[Cell, ...]

    @property
    def has_seats(self) -> bool:
        """Whether anybody stands, or stood, there at all."""
        return any(cell.seats for cell in self.cells)


@dataclass(frozen=True)
class BoardView:
    """Everything the board shows."""

    night: Night
    blocks: list[Block]
    rows: list[Row]
    idle: list[tuple[Block, list[Spare]]]
    breaches: tuple[Breach, ...]
    coming: list[Coming]
    names: dict[int, str]
    loaded: Loaded = field(repr=False)

    @property
    def rules(self) -> list[str]:
        """Every rule that was looked at, in words."""
        return [title(rule) for rule in RULES]

    @property
    def night_troubles(self) -> tuple[str, ...]:
        """What is wrong with the night as a whole, or with a stretch, and at no one station."""
        return tuple(
            breach.message
            for breach in self.breaches
            if breach.station is None and not breach.people and breach.rule not in OF_A_ROOM
        )

    @property
    def open_rows(self) -> list[Row]:
        """Stations somebody is placed at, or was before it was closed."""
        return [row for row in self.rows if row.has_seats]

    @property
    def closed_rows(self) -> list[Row]:
        """Stations nobody is placed at, or that somebody closed, with the reason."""
        return [row for row in self.rows if row.state == "closed"]

    @property
    def expected_count(self) -> int:
        """How many people the plan counts on."""
        return sum(each.is_expected for each in self.coming)

    @property
    def empty_rows(self) -> list[Row]:
        """Stations with nobody all night: places for somebody who is moved by hand."""
        return [row for row in self.rows if not row.has_seats]

    @property
    def off_floor(self) -> list[tuple[Block, list[OffFloor]]]:
        """Where the floor holds fewer than come: by block, who has a job off it, and who none."""
        index = {block.pk: position for position, block in enumerate(self.blocks)}
        stations = self.loaded.bare.station
        jobs: dict[int, list[OffFloor]] = {block: [] for block in self.loaded.bare.short_blocks}
        for row in self.loaded.placings:
            station = stations[str(row.station_id)]
            if index[row.block_id] in jobs and station.is_off_floor:
                found = OffFloor(self.names[row.person_id], station.name)
                jobs[index[row.block_id]].append(found)
        for block, people in self.idle:
            if index[block.pk] in jobs:
                jobs[index[block.pk]] += [
                    OffFloor(each.short_name, "", each.why) for each in people
                ]
        return [(self.blocks[block], found) for block, found in jobs.items()]

    @property
    def floor_places(self) -> int | None:
        """How many people the floor holds, where the club set a number."""
        return self.loaded.bare.floor_places

    @property
    def version(self) -> str:
        """The word for the board as it stands; a move says which it saw."""
        return version_of(self.loaded.placings)

    @property
    def is_placed(self) -> bool:
        """Whether anybody is placed yet."""
        return bool(self.loaded.placings)


def board_for(night: Night) -> BoardView:
    """The board with its breaches, checked anew on the facts of now. 12 queries for any size."""
    return lay_out(load(night))


def lay_out(loaded: Loaded) -> BoardView:
    """The board of a loaded night. No query."""
    found = breaches(loaded.bare, *loaded.placed())
    names = short_names(loaded.register.people.values())
    coming = [replace(each, short_name=names[each.person_id]) for each in loaded.coming]
    seats = _seats(loaded, found, names)
    reasons = _reasons(loaded.night)
    return BoardView(
        night=loaded.night,
        blocks=loaded.blocks,
        rows=[_row(station, loaded, found, seats, reasons) for station in loaded.stations],
        idle=_idle(loaded, coming),
        breaches=found,
        coming=sorted(coming, key=lambda each: ANSWERS.index(each.answer)),
        names=names,
        loaded=loaded,
    )


Seats = dict[tuple[int, int], list[Seat]]


def _seats(loaded: Loaded, found: Iterable[Breach], names: dict[int, str]) -> Seats:
    index = {block.pk: position for position, block in enumerate(loaded.blocks)}
    seats: Seats = defaultdict(list)
    why = sentences(loaded)
    for row in loaded.placings:
        troubles = tuple(
            breach.message
            for breach in found
            if str(row.person_id) in breach.people
            and breach.block in (None, index[row.block_id])
            and breach.station in (None, str(row.station_id))
        )
        seat = Seat(row, names[row.person_id], troubles, why.get(row.pk, row.why))
        seats[row.station_id, index[row.block_id]].append(seat)
    return seats


def _row(
    station: Station, loaded: Loaded, found: tuple[Breach, ...], seats: Seats,
    reasons: dict[str, str],
) -> Row:  # fmt: skip
    cells = tuple(
        Cell(
            block=block,
            seats=tuple(seats.get((station.pk, position), ())),
            troubles=_at(found, position, station),
        )
        for position, block in enumerate(loaded.blocks)
    )
    if not any(cell.seats for cell in cells):
        reason = closed_because(station, loaded.night) or reasons.get(str(station.pk), NOBODY)
        return Row(station, "closed", reason, cells)
    if stop := station.stopped_on(loaded.night.date):
        # Who stood there until then stays in sight; the station is closed all the same.
        return Row(station, "closed", stop.told, cells)
    troubles = [text for cell in cells for text in _troubles(cell)]
    return Row(station, "short" if troubles else "open", " ".join(dict.fromkeys(troubles)), cells)


def _at(found: Iterable[Breach], position: int, station: Station) -> tuple[str, ...]:
    return tuple(
        breach.message
        for breach in found
        if (breach.station == str(station.pk) and breach.block in (None, position))
        or _stops_all_night(breach, station)
    )


def _stops_all_night(breach: Breach, station: Station) -> bool:
    # A gap in the watch has no station of its own, yet no spark may fly before it is mended:
    # the card of whoever makes sparks must say so, whichever block the gap is in.
    if breach.rule == "fire_watch" and station.kind == Station.Kind.FIRE_WATCH:
        return True
    is_touched = station.is_spark or (breach.rule == "hot_and_straw" and station.is_straw)
    is_of_room = breach.rule in OF_A_ROOM
    # By its name in the words: one name inside another stops one station too many, never too few.
    return is_of_room and is_touched and str(station.room) in breach.message


def _troubles(cell: Cell) -> list[str]:
    return [*cell.troubles, *(text for seat in cell.seats for text in seat.troubles)]


def _idle(loaded: Loaded, coming: Iterable[Coming]) -> list[tuple[Block, list[Spare]]]:
    """By block, those who are in the building then and have no place, each with the reason."""
    laid_out = Board(loaded.bare, *loaded.placed())
    why = {
        (each.person, each.block): each.reason for each in Reasons(laid_out, is_by_hand=True).idle
    }
    placed: dict[int, set[int]] = defaultdict(set)
    for row in loaded.placings:
        placed[row.block_id].add(row.person_id)
    spans = loaded.bare.blocks
    return [
        (
            block,
            [
                Spare(each.person_id, each.short_name, why.get((str(each.person_id), index), ""))
                for each in coming
                if each.person_id not in placed[block.pk]
                and any(stay.covers(span.start, span.end) for stay in each.present)
            ],
        )
        for index, (block, span) in enumerate(zip(loaded.blocks, spans, strict=True))
    ]


def _reasons(night: Night) -> dict[str, str]:
    """Station -> why the last plan left it closed."""
    run = night.plan
    closed = run.result.get("closed", []) if run else []
    return {row["station"]: row["reason"] for row in closed}
