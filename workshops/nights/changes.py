"""Steps on the board as they are kept: what stood in the seats a step touched, by ids.

A board's version is a word made from everything that stands: a move says which version it
saw, so that nobody moves people on a board that somebody else has changed meanwhile.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from hashlib import blake2s
from typing import Any

from workshops.nights.models import Block, Change, Night, Placing, PlacingRun

Seat = tuple[int, int]  # person, block
LATEST = 5  # steps the board lists


@dataclass(frozen=True)
class Standing:
    """What stood in some seats, and which plan it came from."""

    seats: dict[Seat, dict[str, Any]]
    plan: int | None = None

    def to_json(self) -> dict[str, Any]:
        """Plain values for the row of the change."""
        return {"plan": self.plan, "seats": list(self.seats.values())}

    @classmethod
    def from_json(cls, raw: Mapping[str, Any]) -> Standing:
        """What ``to_json`` wrote."""
        return cls({(row["person"], row["block"]): row for row in raw["seats"]}, raw["plan"])


def standing(rows: Iterable[Placing], plan: int | None = None) -> Standing:
    """Placings as they are kept."""
    return Standing({(row.person_id, row.block_id): _kept(row) for row in rows}, plan)


def _kept(row: Placing) -> dict[str, Any]:
    # Not its sentence: that has names in it, and can be told anew.
    return {
        "person": row.person_id, "block": row.block_id, "station": row.station_id,
        "bench": row.bench, "role": str(row.role), "room": row.room_id,
        "is_locked": row.is_locked, "run": row.run_id,
    }  # fmt: skip


def version_of(rows: Iterable[Placing]) -> str:
    """A word for everything that stands; another board has another word."""
    told = sorted(
        (row.person_id, row.block_id, row.station_id, row.bench, str(row.role), row.is_locked)
        for row in rows
    )
    return blake2s(repr(told).encode(), digest_size=6).hexdigest()


def between(before: Standing, after: Standing) -> tuple[Standing, Standing]:
    """Only the seats that differ, on either side."""
    seats = {
        seat
        for seat in before.seats.keys() | after.seats.keys()
        if before.seats.get(seat) != after.seats.get(seat)
    }
    return (
        Standing({seat: row for seat, row in before.seats.items() if seat in seats}, before.plan),
        Standing({seat: row for seat, row in after.seats.items() if seat in seats}, after.plan),
    )


@dataclass(frozen=True, slots=True)
class Step:
    """A step and what it was, in words."""

    change: Change
    words: str


@dataclass(frozen=True)
class Steps:
    """What can be taken back and done again, and the latest steps, the newest first."""

    back: Change | None = None
    again: Change | None = None
    latest: tuple[Change, ...] = ()


def steps_of(night: Night) -> Steps:
    """The steps of a night. 1 query; nothing before the first."""
    rows = list(night.board_changes.select_related("by").order_by("-pk")[: 4 * LATEST])
    back = next((row for row in rows if row.undone_at is None), None)
    undone = [row for row in rows if row.undone_at and (back is None or row.pk > back.pk)]
    made = [row for row in rows if row.undone_at is None]
    return Steps(back, undone[-1] if undone else None, tuple(made[:LATEST]))


def told(
    change: Change,
    *,
    names: Mapping[int, str],
    stations: Mapping[int, str],
    blocks: Mapping[int, Block],
) -> Step:
    """A step in words: who, from where to where, when."""
    before, after = Standing.from_json(change.before), Standing.from_json(change.after)
    seats = sorted(before.seats.keys() | after.seats.keys(), key=lambda seat: seat[1])
    if change.kind in (Change.Kind.PLAN, Change.Kind.REST) or not seats:
        count = len(seats)
        return Step(change, f"{change.get_kind_display()}: {count} "
                            f"place{'' if count == 1 else 's'} changed")  # fmt: skip
    name = names.get(seats[0][0], "somebody")
    was, now = (_place(side.seats, seats, stations) for side in (before, after))
    words = {
        Change.Kind.LOCK: f"fixed at {now}",
        Change.Kind.FREE: f"no longer fixed at {now}",
        Change.Kind.OUT: f"out of {was}",
    }.get(Change.Kind(change.kind), f"{was} → {now}")
    return Step(change, f"{name}: {words}, {_when(blocks, [seat[1] for seat in seats])}")


def _place(
    side: Mapping[Seat, Mapping[str, Any]], seats: Iterable[Seat], stations: Mapping[int, str]
) -> str:
    found = dict.fromkeys(
        stations.get(side[seat]["station"], "a station") if seat in side else "no place"
        for seat in seats
    )
    return " and ".join(found)


def _when(blocks: Mapping[int, Block], pks: Iterable[int]) -> str:
    known = [blocks[pk] for pk in pks if pk in blocks]
    if not known:
        return "at a time the night no longer has"
    known.sort(key=lambda block: block.starts)
    return f"{known[0].starts:%H:%M}–{known[-1].ends:%H:%M}"


def sentence_in(run: PlacingRun | None, row: Placing, index: int) -> str:
    """The sentence that a run has for a placing, in the block of that index; empty for none."""
    if run is None:
        return ""
    at = (str(row.person_id), index - run.from_block)
    for name in ("placings", "watch"):
        for each in run.result.get(name, ()):
            is_there = each.get("station", str(row.station_id)) == str(row.station_id)
            if (each["person"], each["block"]) == at and is_there:
                return str(each["why"])
    return ""
