"""Where people stood on the nights of this winter, the hot-work permits and the hand-overs.

The file says who stood where before and after the break, as on the paper that hung there.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from workshops.home.demo.days import Days
from workshops.home.demo.files import Row, read
from workshops.home.demo.nights import Told
from workshops.home.demo.people import People
from workshops.nights.actions import book_uses
from workshops.nights.models import Block, HandOver, HotWorkPermit, Night, Placing
from workshops.stations.models import Station

WATCH = timedelta(minutes=60)
OPENERS = ("ingrun", "tobias")  # who opens and closes a night, the first of them who came
LEADS = ("may lead", "may sign others")
Role = Placing.Role
Levels = dict[tuple[str, str], str]  # (person, station) -> level


def load_standing(
    told: list[Told], people: People, stations: dict[str, Station], days: Days
) -> None:
    """Placings, permits and hand-overs of every night whose places are told."""
    held = [each for each in told if "stood" in each.row]
    blocks: dict[int, list[Block]] = {each.night.pk: [] for each in held}
    for block in Block.objects.filter(night__in=blocks).order_by("index"):
        blocks[block.night_id].append(block)
    levels = _levels()
    Placing.objects.bulk_create(
        placing
        for row, night in held
        for block in blocks[night.pk]
        for slug, keys in _stood(row, block).items()
        if not _is_over(stations[slug], night, block, days)
        for placing in _crew(stations[slug], keys, levels=levels, people=people, block=block)
    )
    HotWorkPermit.objects.bulk_create(
        _permit(each, people, days) for each in held if "fire-watch" in each.row["stood"][-1]
    )
    HandOver.objects.bulk_create(
        _hand_over(each, people, days) for each in held if "hand_over" in each.row
    )


def load_uses(told: list[Told]) -> None:
    """Who worked where on the nights held so far, once their tallies are in the book."""
    for row, night in told:
        if "stood" in row:
            book_uses(night=night)


def _levels() -> Levels:
    return {
        (row["key"], slug): entry if isinstance(entry, str) else entry["level"]
        for row in read("people")["people"]
        for slug, entry in row.get("signed", {}).items()
    }


def _stood(row: Row, block: Block) -> dict[str, list[str]]:
    """Station -> people: before the break in the first two blocks, after it in the others."""
    found: dict[str, list[str]] = row["stood"][0 if block.index < 2 else 1]
    return found


def _is_over(station: Station, night: Night, block: Block, days: Days) -> bool:
    """Whether hot work had ended before the block did: lock-up less the fire watch."""
    last_spark = days.at(night.date, night.lock_up) - WATCH
    return station.is_spark and days.at(night.date, block.ends) > last_spark


def _crew(
    station: Station,
    keys: list[str],
    *,
    levels: Levels,
    people: People,
    block: Block,
) -> Iterator[Placing]:
    """The crew of a station in one block; learners stand at the first bench with its lead."""
    if station.kind == Station.Kind.FIRE_WATCH:
        for key in keys:
            yield Placing(
                night=block.night, block=block, person=people[key], station=station,
                role=Role.WATCHES, room=station.room,
            )  # fmt: skip
        return
    level = {key: levels.get((key, station.slug), "") for key in keys}
    learners = [key for key in keys if level[key] == "with a lead"]
    workers = sorted(set(keys) - set(learners), key=lambda key: (level[key] not in LEADS, key))
    benches = max(1, min(station.benches, len(keys) // station.crew_min))
    for place, key in enumerate(workers + learners):
        role = Role.LEARNS if key in learners else Role.WORKS
        if learners and place == 0:
            role = Role.LEADS
        yield Placing(
            night=block.night, block=block, person=people[key], station=station, role=role,
            bench=1 if key in learners else 1 + place % benches,
        )  # fmt: skip


def _opener(row: Row) -> str:
    return next(key for key in OPENERS if key in row["came"])


def _permit(told: Told, people: People, days: Days) -> HotWorkPermit:
    row, night = told
    watcher = people[row["stood"][-1]["fire-watch"][0]]
    lock_up = days.at(night.date, night.lock_up)
    return HotWorkPermit(
        night=night, watcher=watcher, watch_minutes=WATCH.seconds // 60,
        opened_at=days.at(night.date, night.doors) + timedelta(minutes=20),
        opened_by=str(people[_opener(row)]), last_spark_at=lock_up - WATCH - timedelta(minutes=4),
        watch_ended_at=lock_up - timedelta(minutes=2), watch_signed_by=str(watcher),
    )  # fmt: skip


def _hand_over(told: Told, people: People, days: Days) -> HandOver:
    row, night = told
    return HandOver(
        night=night, words=row["hand_over"], written_by=str(people[_opener(row)]),
        written_at=days.at(night.date, night.lock_up),
    )  # fmt: skip
