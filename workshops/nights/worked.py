"""Who worked where, from placings and the roll: minutes after midnight, as both say."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from workshops.nights.clock import minutes, minutes_of
from workshops.nights.models import Block, Night, Placing, RollLine

Stay = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Stint:
    """One person at one station from one minute of the night to another."""

    person: int
    station: int
    start: int
    end: int


def stays_of(night: Night) -> dict[int, list[Stay]]:
    """Person -> from and to on the roll, in minutes of the night; still in: to lock-up. 1 query."""
    found: dict[int, list[Stay]] = {}
    for line in RollLine.objects.filter(night=night):
        out = minutes_of(line.out_at, night) if line.out_at else minutes(night.lock_up)
        found.setdefault(line.person_id, []).append((minutes_of(line.in_at, night), out))
    return found


def minutes_there(block: Block, stays: Iterable[Stay]) -> int:
    """How much of a block somebody was on the roll."""
    return sum(end - start for start, end in _shared(block, stays))


def stints_of(night: Night) -> list[Stint]:
    """Everybody who stood anywhere while on the roll, block by block. 2 queries.

    A night on which nobody was signed in is taken as it was planned: better one too many is
    asked the day after than one too few.
    """
    stays = stays_of(night)
    rows = Placing.objects.filter(night=night).select_related("block").order_by("block__index")
    found = []
    for row in rows:
        whole = [(minutes(row.block.starts), minutes(row.block.ends))]
        there = list(_shared(row.block, stays.get(row.person_id, ()))) if stays else whole
        found += [Stint(row.person_id, row.station_id, *span) for span in there]
    return found


def _shared(block: Block, stays: Iterable[Stay]) -> list[Stay]:
    start, end = minutes(block.starts), minutes(block.ends)
    both = [(max(start, came), min(end, went)) for came, went in stays]
    return [(came, went) for came, went in both if came < went]
