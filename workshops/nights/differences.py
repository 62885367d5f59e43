"""What changed between two plans of one night, person by person: pure, asked by every page.

Two plans are compared as people hear them: where somebody stands and whether they learn
there. Another bench of the same station is no change, and neither is a lead who gained or
lost a learner: nobody need be told to walk.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from workshops.nights.models import Block, Placing

WATCHES, LEARNS = Placing.Role.WATCHES.value, Placing.Role.LEARNS.value


@dataclass(frozen=True, slots=True)
class Stand:
    """One person at one station in one block (0 is the first), by ids."""

    person: int
    block: int
    station: int
    role: str = Placing.Role.WORKS.value
    bench: int = 1
    room: str = ""  # that a fire watch looks after

    @property
    def told(self) -> tuple[int, bool]:
        """What makes it another place: the station, and whether one learns there."""
        return self.station, self.role == LEARNS


@dataclass(frozen=True, slots=True)
class Moved:
    """One person who goes from one place to another in some blocks in a row.

    ``was`` is none for somebody who had no place then, ``now`` for somebody who has none any
    more; both are of the first of the blocks.
    """

    person: int
    blocks: tuple[int, ...]
    was: Stand | None
    now: Stand | None


@dataclass(frozen=True, slots=True)
class Turned:
    """Stations that one plan uses and the other does not, by id."""

    opened: tuple[int, ...]
    closed: tuple[int, ...]


def differences(before: Iterable[Stand], after: Iterable[Stand]) -> list[Moved]:
    """Who stands elsewhere, by block and person; blocks in a row with the same move are one.

    Empty when nobody need be told anything. The order of what is given does not matter.
    """
    was, now = _by_seat(before), _by_seat(after)
    found: list[Moved] = []
    for person, block in sorted(was.keys() | now.keys()):
        old, new = was.get((person, block)), now.get((person, block))
        if _told(old) == _told(new):
            continue
        last = found[-1] if found else None
        if last and _goes_on(last, person, block, (old, new)):
            found[-1] = Moved(person, (*last.blocks, block), last.was, last.now)
        else:
            found.append(Moved(person, (block,), old, new))
    return sorted(found, key=lambda each: (each.blocks, each.person))


def turned(before: Iterable[Stand], after: Iterable[Stand]) -> Turned:
    """Which stations opened and which closed, the whole night taken together."""
    was, now = {each.station for each in before}, {each.station for each in after}
    return Turned(tuple(sorted(now - was)), tuple(sorted(was - now)))


def stands_of(placings: Iterable[Placing], blocks: Sequence[Block]) -> list[Stand]:
    """The placings that stand, as they are compared. No query."""
    index = {block.pk: position for position, block in enumerate(blocks)}
    return [
        Stand(row.person_id, index[row.block_id], row.station_id, str(row.role)) for row in placings
    ]


def stands_in(result: Mapping[str, Any], watch_station: int | None) -> list[Stand]:
    """The placings of a stored run's ``result``, as they are compared; the watch among them."""
    found = [
        Stand(int(row["person"]), row["block"], int(row["station"]), row["role"])
        for row in result["placings"]
    ]
    if watch_station is not None:
        found += [
            Stand(int(row["person"]), row["block"], watch_station, WATCHES)
            for row in result["watch"]
        ]
    return found


def _by_seat(stands: Iterable[Stand]) -> dict[tuple[int, int], Stand]:
    return {(each.person, each.block): each for each in stands}


def _told(stand: Stand | None) -> tuple[int, bool] | None:
    return stand.told if stand else None


def _goes_on(
    last: Moved, person: int, block: int, change: tuple[Stand | None, Stand | None]
) -> bool:
    is_next = last.person == person and last.blocks[-1] + 1 == block
    same = (_told(last.was), _told(last.now)) == (_told(change[0]), _told(change[1]))
    return is_next and same
