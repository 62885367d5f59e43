"""Who may change places, or move alone, and what that gains by the end of the night.

Every change is asked of the rules of the whole plan; what it makes is a reckoning with the
same racks and paces that the placing engine uses.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from workshops.nights.clock import minutes, minutes_of
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.stock import Stock
from workshops.nights.loading import Loaded, load, load_making
from workshops.nights.models import Block, Night, Placing
from workshops.nights.weighing import Weighed, moved, weigh, weigh_swap
from workshops.people.names import short_names
from workshops.stations.models import Station

STEP = 10  # minutes reckoned at once: what is made in one is used in the next
TRIED = 12  # the best by the reckoning are asked of the rules, no more
LEAST_POINTS = 1.0  # of worth: less is no reason to send two people across the shop


@dataclass(frozen=True, slots=True)
class Swap:
    """Two who change places for the rest of the night; without ``other`` one who moves alone.

    ``one_at`` is empty for somebody without a place, ``to`` the station they go to.
    """

    one: int
    one_name: str
    one_at: str
    other: int | None
    other_name: str
    to: str
    station: int
    block: int
    sets: float
    points: float


def best_swap(night: Night, now: datetime) -> Swap | None:
    """The change of places that gains most and that no rule stops; none when none gains."""
    loaded = load(night)
    minute = minutes_of(now, night)
    blocks = [block for block in loaded.blocks if minutes(block.ends) > minute]
    if not blocks:
        return None
    problem = loaded.problem(making=load_making(night.shop))
    rest = _Rest(problem, loaded, blocks, minute)
    before = rest.made(loaded.placings)
    # A reckoning each, then the rules for the best few: asking them of all takes seconds.
    tried = sorted(
        ((rest.made(each.rows), each) for each in _changes(loaded, blocks)),
        key=lambda pair: pair[0][1], reverse=True,
    )  # fmt: skip
    for made, change in tried[:TRIED]:
        if made[1] - before[1] < LEAST_POINTS:
            return None
        # Not one new breach, also of those that a plan may have while it is put together.
        if not change.ask().new:
            return change.told(made[0] - before[0], made[1] - before[1])
    return None


@dataclass(frozen=True)
class _Change:
    """One move or change of places that the gate lets both do."""

    loaded: Loaded
    blocks: Sequence[Block]
    one: int
    here: Placing | None
    other: Placing | None
    station: Station

    @property
    def rows(self) -> list[Placing]:
        """Every placing of the night after it."""
        if self.here is not None and self.other is not None:
            weighed = weigh_swap(self.loaded, self.here, self.other, self.blocks, is_bare=True)
            return list(weighed.rows)
        return moved(self.loaded, person=self.one, station=self.station, blocks=self.blocks)

    def ask(self) -> Weighed:
        """What the rules say of it."""
        if self.here is not None and self.other is not None:
            return weigh_swap(self.loaded, self.here, self.other, self.blocks)
        return weigh(self.loaded, person=self.one, station=self.station, blocks=self.blocks)

    def told(self, sets: float, points: float) -> Swap:
        """The change with the names and stations in it."""
        names = short_names(self.loaded.register.people.values())
        stations = {row.pk: row.name for row in self.loaded.stations}
        other = self.other.person_id if self.other else None
        return Swap(
            one=self.one, one_name=names[self.one],
            one_at=stations[self.here.station_id] if self.here else "",
            other=other, other_name=names[other] if other else "",
            to=self.station.name, station=self.station.pk, block=self.blocks[0].pk,
            sets=sets, points=points,
        )  # fmt: skip


def _changes(loaded: Loaded, blocks: Sequence[Block]) -> Iterator[_Change]:
    """Every move alone and every change of places that the sign-offs allow."""
    now = {row.person_id: row for row in loaded.placings if row.block_id == blocks[0].pk}
    free = [
        row for row in now.values() if row.role != Placing.Role.WATCHES and not row.is_locked
    ]  # fmt: skip
    stations = {row.pk: row for row in loaded.stations if row.kind != Station.Kind.FIRE_WATCH}
    ok = loaded.register.answer
    idle = [each.person_id for each in loaded.coming if each.is_in and each.person_id not in now]
    for person, here in [*((row.person_id, row) for row in free), *((one, None) for one in idle)]:
        for pk, station in stations.items():
            if (here is None or here.station_id != pk) and ok(person, pk).ok:
                yield _Change(loaded, blocks, person, here, None, station)
    for index, one in enumerate(free):
        for other in free[index + 1 :]:
            at, to = one.station_id, other.station_id
            if at != to and ok(one.person_id, to).ok and ok(other.person_id, at).ok:
                yield _Change(loaded, blocks, one.person_id, one, other, stations[to])


@dataclass(frozen=True)
class _Rest:
    """What is left of the night, to reckon what other placings would make."""

    problem: Problem
    loaded: Loaded
    blocks: Sequence[Block]
    minute: int

    def made(self, rows: Sequence[Placing]) -> tuple[float, float]:
        """Complete sets and points of worth on the racks at the end."""
        stock = Stock(self.problem)
        for block in self.blocks:
            paces: dict[str, float] = {}
            for row in rows:
                if row.block_id == block.pk and row.role != Placing.Role.WATCHES:
                    at = str(row.station_id)
                    paces[at] = paces.get(at, 0.0) + self._pace(row)
            left = minutes(block.ends) - max(self.minute, minutes(block.starts))
            for _ in range(max(1, left // STEP)):
                stock.work({at: pace * STEP for at, pace in paces.items()})
        sets = sum(stock.racks[part] for kind in self.problem.sets for part in kind.parts)
        points = sum(stock.racks[each.id] * each.worth for each in self.problem.pieces)
        return sets, points + sum(
            stock.racks[part] * kind.worth for kind in self.problem.sets for part in kind.parts
        )

    def _pace(self, row: Placing) -> float:
        person = self.problem.person.get(str(row.person_id))
        pace = person.rate(str(row.station_id)) if person else 0.0
        learns = row.role == Placing.Role.LEARNS
        return pace * self.problem.club.learner_rate if learns else pace
