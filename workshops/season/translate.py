"""Rows to an outlook problem. Nothing else of the slice knows both sides."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta

from workshops.nights.clock import minutes
from workshops.nights.making import Shopful
from workshops.nights.models import Night, SignUp
from workshops.people.facts import PersonFacts
from workshops.people.gate import Doing, Register
from workshops.season.engine import problem as engine
from workshops.season.history import Turnout
from workshops.season.models import IceOut, Target, Winter
from workshops.stations.models import Operation, Station

# A waiver is signed at the door; a person who lacks one still counts for the winter.
AT_THE_DOOR = ("waiver",)


def nights(rows: Iterable[Night], watch_minutes: int) -> tuple[engine.Night, ...]:
    """The nights to come, with their minutes of work."""
    return tuple(_night(row, watch_minutes) for row in rows)


def _night(row: Night, watch_minutes: int) -> engine.Night:
    spans = [(minutes(block.starts), minutes(block.ends)) for block in row.blocks.all()]
    latest = minutes(row.lock_up) - watch_minutes
    # Minutes of work, so breaks do not count.
    before = sum(max(0, min(end, latest) - start) for start, end in spans)
    return engine.Night(
        date=row.date.isoformat(),
        kind=engine.NightKind(row.kind),
        blocks=tuple(end - start for start, end in spans),
        last_spark=before,
    )


def stations(rows: Iterable[Station]) -> tuple[engine.Station, ...]:
    """The stations, no more benches than there are tools in working order."""
    return tuple(
        engine.Station(
            id=str(row.pk), title=row.name, crew_min=row.crew_min, crew_max=row.crew_max,
            benches=min(
                [row.benches, *(tool.count - tool.out_of_service for tool in row.tools.all())]
            ),
        )
        for row in rows
    )  # fmt: skip


def items(making: Shopful) -> tuple[engine.Item, ...]:
    """Racks and materials; a finished set is counted by its variant, not on a rack."""
    sets = {part for kind in making.sets for part in kind.parts}
    racks = [
        engine.Item(
            piece.id, piece.name, on_hand=0 if piece.id in sets else piece.on_rack,
            rack_limit=piece.rack_limit,
        )
        for piece in making.pieces
    ]  # fmt: skip
    held = [engine.Item(each.id, each.name, on_hand=each.on_hand) for each in making.materials]
    return (*racks, *held)


def operations(
    making: Shopful, rows: Mapping[str, Operation], made: Mapping[int, int]
) -> tuple[engine.Operation, ...]:
    """The operations, counted per piece."""
    return tuple(
        engine.Operation(
            id=run.id, title=run.name, station=run.station, makes=run.makes,
            minutes=run.minutes / run.makes_count,
            uses={
                # Per piece, rounded up: a recipe that makes several is rare and shares little.
                name: -(-count // run.makes_count)
                for name, count in {**run.uses, **run.materials}.items()
            },
            hot=rows[run.id].station.is_spark, straw=rows[run.id].station.is_straw,
            made_this_winter=made.get(int(run.id), 0),
        )
        for run in making.runs
    )  # fmt: skip


def variants(targets: Sequence[Target], finished: Mapping[int, int]) -> tuple[engine.Variant, ...]:
    """The sets that are wanted, and how many of each this winter has made."""
    return tuple(
        engine.Variant(
            id=f"set-{row.item_id}", title=row.item.name, parts={str(row.item_id): 1},
            target=row.count, finished=finished.get(row.item_id, 0),
        )
        for row in targets
    )  # fmt: skip


def people(
    register: Register,
    operations: Iterable[Operation],
    turnouts: Mapping[int, Turnout],
    *,
    answers: Mapping[int, dict[str, engine.Answer]],
    watch: Station | None,
) -> tuple[engine.Person, ...]:
    """Everybody on the list, with what they may do and how often they came."""
    rows = list(operations)
    return tuple(
        _person(
            facts, register, rows,
            turnout=turnouts.get(facts.id, Turnout()),
            answers=answers.get(facts.id, {}),
            watch=watch,
        )
        for facts in register.people.values()
        if facts.is_active
    )  # fmt: skip


def _person(
    facts: PersonFacts, register: Register, rows: Sequence[Operation], *,
    turnout: Turnout, answers: dict[str, engine.Answer], watch: Station | None,
) -> engine.Person:  # fmt: skip
    def may(station: int, doing: Doing) -> bool:
        return register.answer(facts.id, station, doing).ok_but_for(AT_THE_DOOR)

    alone = [row for row in rows if may(row.station_id, Doing.WORKS)]
    learns = [row for row in rows if row not in alone and may(row.station_id, Doing.LEARNS)]
    leads = [row for row in alone if may(row.station_id, Doing.LEADS)]
    return engine.Person(
        id=str(facts.id), title=facts.name, answers=answers,
        asked=turnout.asked, came=turnout.came,
        said_yes=turnout.said_yes, came_after_yes=turnout.came_after_yes,
        said_no=turnout.said_no, came_after_no=turnout.came_after_no,
        alone=_ids(alone), leads=_ids(leads), learns=_ids(learns),
        lapses=_lapses(facts, alone),
        may_watch=watch is not None and may(watch.pk, Doing.WATCHES),
    )  # fmt: skip


def _ids(rows: Iterable[Operation]) -> tuple[str, ...]:
    return tuple(str(row.pk) for row in rows)


def _lapses(facts: PersonFacts, rows: Iterable[Operation]) -> dict[str, str]:
    """Operation -> the first day on which the sign-off no longer counts."""
    found = {}
    for row in rows:
        signed = facts.signed.get(row.station_id)
        if row.station.level_needed is not None and signed and signed.valid_until:
            found[str(row.pk)] = (signed.valid_until + timedelta(days=1)).isoformat()
    return found


def answers_to_come(rows: Iterable[SignUp]) -> dict[int, dict[str, engine.Answer]]:
    """Person -> date -> what they said about a night to come."""
    found: dict[int, dict[str, engine.Answer]] = {}
    for row in rows:
        day = row.night.date.isoformat()
        found.setdefault(row.person_id, {})[day] = engine.Answer(row.answer)
    return found


def ice(rows: Iterable[IceOut], winter: Winter) -> tuple[engine.IceOut, ...]:
    """Past ice-outs laid on this winter's spring, each as likely as the others."""
    days = sorted(_this_spring(row.went_on, winter) for row in rows)
    return tuple(engine.IceOut(day.isoformat()) for day in days)


def _this_spring(went_on: date, winter: Winter) -> date:
    """The same day of the year, in the year in which it lies nearest to the ready-by day."""
    # Counted in days from 1 January, so that a leap day moves nothing but itself.
    days = (went_on - date(went_on.year, 1, 1)).days
    years = (winter.starts_on.year, winter.starts_on.year + 1)
    springs = [date(year, 1, 1) + timedelta(days=days) for year in years]
    return min(springs, key=lambda day: abs(day - winter.ready_by))


def made(by_night: Mapping[date, Mapping[int, int]]) -> tuple[engine.Made, ...]:
    """Finished sets so far, at the end of each night that made some."""
    total, found = 0, []
    for day in sorted(by_night):
        total += sum(by_night[day].values())
        found.append(engine.Made(day.isoformat(), total))
    return tuple(found)
