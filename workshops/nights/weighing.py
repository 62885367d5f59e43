"""What a move by hand would bring: the placing it makes, the breaches, what refuses it.

The same for a move that is made and for one that is only thought of, so that what a cell
shows while somebody is picked up is what the move will be told.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from inventory.places.models import Room
from workshops.nights.engine.board import Breach
from workshops.nights.engine.rules import breaches
from workshops.nights.loading import Loaded
from workshops.nights.models import Block, Placing
from workshops.nights.refusals import NightRefused
from workshops.nights.translate import placed
from workshops.people.names import short_names
from workshops.stations.models import Level, Station

# Broken by whoever is moved, these refuse the move. The others (a crew not yet full, a watch
# not yet named) are how a plan looks while it is put together, and are shown at once.
REFUSING = frozenset({
    "sign_off", "barred", "prerequisites", "minimum_age", "minor_hours", "personal_limits",
    "presence", "breaks", "last_spark", "hot_and_straw", "out_of_service", "fire_watch_only",
    "learner_beside_lead", "learner_ratio", "supervision", "crew_maximum", "one_place",
    "floor_places",
})  # fmt: skip
# These keep a person off a station whatever the plan looks like: the gate.
GATE = frozenset({
    "sign_off", "barred", "prerequisites", "minimum_age", "personal_limits", "minor_hours",
})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Weighed:
    """A move as it would be.

    ``rows`` are its placings, not saved; ``found`` every breach of the plan afterwards;
    ``new`` those of them that the move brings; ``stopping`` those that refuse it.
    """

    rows: tuple[Placing, ...]
    found: tuple[Breach, ...]
    new: tuple[Breach, ...]
    stopping: tuple[Breach, ...]


def breaches_in(loaded: Loaded) -> tuple[Breach, ...]:
    """Every breach of the placings that stand."""
    return breaches(loaded.bare, *loaded.placed())


def breaches_with(loaded: Loaded, rows: Sequence[Placing]) -> tuple[Breach, ...]:
    """Every breach of other placings on the same night."""
    if any(str(row.person_id) not in loaded.bare.person for row in rows):
        # Somebody who is not on tonight's list at all: the night is read with them on it.
        return breaches_in(replace(loaded, placings=list(rows)))
    return breaches(loaded.bare, *placed(rows, loaded.blocks, loaded.bare))


def weigh(
    loaded: Loaded,
    *,
    person: int,
    station: Station,
    blocks: Sequence[Block],
    was: frozenset[Breach] | None = None,
) -> Weighed:
    """What comes of putting a person at a station in some blocks. No query.

    Parameters
    ----------
    was
        The breaches of the plan as it stands, where somebody has asked them already.

    Raises
    ------
    NightRefused
        When there is nothing to watch.
    """
    was = frozenset(breaches_in(loaded)) if was is None else was
    touched = {block.pk for block in blocks}
    others = [
        row for row in loaded.placings if row.person_id != person or row.block_id not in touched
    ]
    rows = tuple(_row(loaded, others, block=block, person=person, station=station)
                 for block in blocks)  # fmt: skip
    found = breaches_with(loaded, [*others, *rows])
    new = tuple(breach for breach in found if breach not in was)
    stopping = tuple(
        breach
        for breach in found
        if (breach.rule in REFUSING and breach not in was) or _stops_one(breach, rows)
    )
    return Weighed(rows, found, new, stopping)


def _stops_one(breach: Breach, rows: Iterable[Placing]) -> bool:
    # Also when it stood there before: nobody is put anew where the gate says no by now, nor
    # beside somebody at a station that was closed under them.
    at = {(str(row.station_id), (str(row.person_id),)) for row in rows}
    if breach.rule == "out_of_service":
        return breach.station in {station for station, _ in at}
    return breach.rule in GATE and (breach.station, breach.people) in at


def _row(
    loaded: Loaded, others: Sequence[Placing], *, block: Block, person: int, station: Station
) -> Placing:
    at_block = [row for row in others if row.block_id == block.pk]
    row = Placing(night=loaded.night, block=block, person_id=person, station=station)
    if station.kind == Station.Kind.FIRE_WATCH:
        row.role, row.room = Placing.Role.WATCHES, _room_to_watch(loaded, at_block)
    else:
        signed = loaded.register.people[person].current(station.pk, loaded.night.date)
        if signed and station.level_needed and signed.level == Level.WITH_A_LEAD:
            row.role = Placing.Role.LEARNS
        row.bench = _bench([each for each in at_block if each.station_id == station.pk],
                           station, row.role)  # fmt: skip
    return row


def why_by_hand(loaded: Loaded, row: Placing) -> str:
    """Why somebody may stand where a hand put them, in one sentence."""
    name = short_names(loaded.register.people.values())[row.person_id]
    signed = loaded.register.people[row.person_id].current(row.station_id, loaded.night.date)
    if row.role == Placing.Role.WATCHES:
        does = f"keeps the fire watch in {row.room}"
    else:
        does = f"{'learns at' if row.role == Placing.Role.LEARNS else 'is at'} {row.station}"
    if not row.station.level_needed:
        ground = "no sign-off is asked for there"
    elif signed is None:
        ground = "without a current sign-off"  # refused before it is kept
    else:
        until = signed.valid_until
        to = f" until {until.day} {until:%B %Y}" if until else ""
        ground = f"signed off “{signed.level.label}”{to}"
    return f"{name} {does}: moved there by hand; {ground}."


def _room_to_watch(loaded: Loaded, at_block: Sequence[Placing]) -> Room:
    stations = {row.pk: row for row in loaded.stations}
    hot = [stations[row.station_id].room for row in at_block if stations[row.station_id].is_spark]
    rooms = hot or [row.room for row in loaded.stations if row.is_spark]
    if not rooms:
        raise NightRefused("No station of the shop makes sparks, so there is nothing to watch.")
    return rooms[0]


def _bench(there: Sequence[Placing], station: Station, role: str) -> int:
    crews = dict.fromkeys(range(1, station.benches + 1), 0)
    for row in there:
        crews[row.bench] = crews.get(row.bench, 0) + 1
    if role == Placing.Role.LEARNS:
        # Beside somebody: an empty bench has no lead.
        crews = {bench: count for bench, count in crews.items() if count} or crews
    return min(crews, key=lambda bench: (crews[bench] >= station.crew_max, bench), default=1)


def moved(
    loaded: Loaded, *, person: int, station: Station, blocks: Sequence[Block]
) -> list[Placing]:
    """Every placing of the night after a move that is only thought of; no rule is asked."""
    touched = {block.pk for block in blocks}
    others = [
        row for row in loaded.placings if row.person_id != person or row.block_id not in touched
    ]
    rows = [_row(loaded, others, block=block, person=person, station=station) for block in blocks]
    return [*others, *rows]


def weigh_swap(
    loaded: Loaded, one: Placing, other: Placing, blocks: Sequence[Block], *, is_bare: bool = False
) -> Weighed:
    """What comes of two changing places, in each block in which both stand where they do now.

    ``rows`` is then every placing of the night. With ``is_bare`` no rule is asked. No query.
    """
    stations = {row.pk: row for row in loaded.stations}
    at = {(row.person_id, row.block_id): row for row in loaded.placings}
    pairs = [
        block for block in blocks
        if _is_at(at, one, block.pk) and _is_at(at, other, block.pk)
    ]  # fmt: skip
    moved = {(each.person_id, block.pk) for each in (one, other) for block in pairs}
    rows = [row for row in loaded.placings if (row.person_id, row.block_id) not in moved]
    new = []
    for each, station in ((one, other.station_id), (other, one.station_id)):
        for block in pairs:
            row = _row(loaded, rows, block=block, person=each.person_id, station=stations[station])
            rows.append(row)
            new.append(row)
    if is_bare:
        return Weighed(tuple(rows), (), (), ())
    was = frozenset(breaches_in(loaded))
    found = breaches_with(loaded, rows)
    fresh = tuple(breach for breach in found if breach not in was)
    stopping = tuple(
        breach for breach in found
        if (breach.rule in REFUSING and breach not in was) or _stops_one(breach, new)
    )  # fmt: skip
    return Weighed(tuple(rows), found, fresh, stopping)


def _is_at(at: dict[tuple[int, int], Placing], row: Placing, block: int) -> bool:
    there = at.get((row.person_id, block))
    return there is not None and there.station_id == row.station_id
