"""Two people who may change places, and what that gains by the end of the night.

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
from workshops.nights.weighing import weigh_swap
from workshops.people.names import short_names

STEP = 10  # minutes reckoned at once: what is made in one is used in the next
TRIED = 12  # the best by the reckoning are asked of the rules, no more
LEAST_POINTS = 1.0  # of worth: less is no reason to send two people across the shop


@dataclass(frozen=True, slots=True)
class Swap:
    """Two who change places for the rest of the night."""

    one: int
    one_name: str
    one_at: str
    other: int
    other_name: str
    other_at: str
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
    tried = sorted(
        ((rest.made(rows), one, other) for one, other, rows in _changes(loaded, blocks)),
        key=lambda each: each[0], reverse=True,
    )  # fmt: skip
    for made, one, other in tried[:TRIED]:
        if made[1] - before[1] < LEAST_POINTS:
            return None
        if not weigh_swap(loaded, one, other, blocks).stopping:
            return _told(loaded, one, other, made[0] - before[0], made[1] - before[1])
    return None


def _changes(
    loaded: Loaded, blocks: Sequence[Block]
) -> Iterator[tuple[Placing, Placing, list[Placing]]]:
    """Every two who stand at different stations now and who could change by their sign-offs."""
    now = [
        row for row in loaded.placings
        if row.block_id == blocks[0].pk and row.role != Placing.Role.WATCHES and not row.is_locked
    ]  # fmt: skip
    for index, one in enumerate(now):
        for other in now[index + 1 :]:
            if one.station_id == other.station_id:
                continue
            ok = loaded.register.answer
            if ok(one.person_id, other.station_id).ok and ok(other.person_id, one.station_id).ok:
                yield one, other, list(weigh_swap(loaded, one, other, blocks, is_bare=True).rows)


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


def _told(loaded: Loaded, one: Placing, other: Placing, sets: float, points: float) -> Swap:
    names = short_names(loaded.register.people.values())
    stations = {row.pk: row.name for row in loaded.stations}
    return Swap(
        one.person_id, names[one.person_id], stations[one.station_id],
        other.person_id, names[other.person_id], stations[other.station_id], sets, points,
    )  # fmt: skip
