"""The plans before and after a tap, as a tap keeps them, and what one changed, in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from workshops.nights.differences import Moved, Stand, differences, stands_of, turned
from workshops.nights.models import Block, Placing
from workshops.nights.queries import expected_sets, names_in
from workshops.stations.models import Station
from workshops.tonight.models import Tap

NO_PLACE = "no place"
Kept = list[list[int | str]]


@dataclass(frozen=True, slots=True)
class Move:
    """One person who goes elsewhere, in words: from where to where, from when to when."""

    name: str
    was: str
    now: str
    when: str


@dataclass(frozen=True)
class Changed:
    """What a tap changed, and nothing else.

    ``sets`` and ``sets_before`` are the complete sets that the two plans expect tonight.
    """

    tap: Tap
    name: str
    left: tuple[str, ...]
    moves: tuple[Move, ...]
    opened: tuple[str, ...]
    closed: tuple[str, ...]
    sets_before: int
    sets: int

    @property
    def is_nothing(self) -> bool:
        """Whether nobody else need be told anything."""
        return not self.moves

    @property
    def fewer(self) -> int:
        """Sets lost; below nought where more are made than before."""
        return self.sets_before - self.sets

    @property
    def more(self) -> int:
        """Sets gained."""
        return -self.fewer


def kept(placings: Iterable[Placing], blocks: Sequence[Block]) -> Kept:
    """Placings as a tap keeps them: ids and no names. No query."""
    rows = stands_of(placings, blocks)
    return [[each.person, each.block, each.station, each.role] for each in rows]


def stands(rows: Kept | None) -> list[Stand]:
    """What a tap kept of a plan, as plans are compared. No query."""
    return [Stand(int(p), int(b), int(s), str(role)) for p, b, s, role in rows or []]


def changed_by(tap: Tap) -> Changed:
    """What a tap changed. 5 queries."""
    before, after = stands(tap.before), stands(tap.after)
    names, blocks = names_in(tap.shop), list(tap.night.blocks.all())
    stations = dict(Station.objects.filter(shop=tap.shop_id).values_list("pk", "name"))
    told = _Told(names, stations, blocks)
    moved, turns = differences(before, after), turned(before, after)
    own = [each for each in moved if each.person == tap.person_id]
    return Changed(
        tap=tap,
        name=names[tap.person_id],
        left=tuple(f"{told.place(each.was)}, {told.when(each)}" for each in own if each.was),
        moves=tuple(told.move(each) for each in moved if each not in own or tap.undoes_id),
        opened=tuple(stations.get(each, "?") for each in turns.opened),
        closed=tuple(stations.get(each, "?") for each in turns.closed),
        sets_before=expected_sets(tap.run_before),
        sets=expected_sets(tap.run),
    )


@dataclass(frozen=True)
class _Told:
    names: dict[int, str]
    stations: dict[int, str]
    blocks: list[Block]

    def move(self, moved: Moved) -> Move:
        return Move(
            self.names.get(moved.person, "somebody who is off the list"),
            self.place(moved.was),
            self.place(moved.now),
            self.when(moved),
        )

    def place(self, stand: Stand | None) -> str:
        if stand is None:
            return NO_PLACE
        name = self.stations.get(stand.station, "?")
        return f"{name}, to learn" if stand.role == Placing.Role.LEARNS else name

    def when(self, moved: Moved) -> str:
        starts, ends = self.blocks[moved.blocks[0]].starts, self.blocks[moved.blocks[-1]].ends
        return f"{starts:%H:%M} to {ends:%H:%M}"
