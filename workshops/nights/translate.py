"""Rows to a placing problem, and a plan back to rows. Nothing else knows both sides."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence

from workshops.nights.clock import minutes
from workshops.nights.coming import Coming
from workshops.nights.engine import problem as engine
from workshops.nights.engine.deal import stretches
from workshops.nights.engine.placings import Placing as PlacedAt
from workshops.nights.engine.placings import Role, Watching
from workshops.nights.engine.plan import Plan
from workshops.nights.models import Block, Night, Placing, PlacingRun
from workshops.people.facts import PersonFacts
from workshops.people.gate import Register
from workshops.people.names import short_names
from workshops.people.young import hours_on
from workshops.stations.inspections import inspections_at, stops, unusable
from workshops.stations.models import Level, Station

LEVELS = {
    Level.SHOWN_HOW: engine.Level.SHOWN_HOW,
    Level.WITH_A_LEAD: engine.Level.WITH_A_LEAD,
    Level.ALONE: engine.Level.ALONE,
    Level.MAY_LEAD: engine.Level.MAY_LEAD,
    Level.MAY_SIGN: engine.Level.MAY_SIGN,
}
# Kinds that stand off the floor wherever they are set up.
OFF_FLOOR = (Station.Kind.KITCHEN, Station.Kind.GREETER)
# Reasons of the gate that hold at every station; the engine knows them as bars.
EVERYWHERE = ("waiver", "consent")


def spans(blocks: Iterable[Block]) -> tuple[engine.Span, ...]:
    """The blocks of a night in minutes."""
    return tuple(engine.Span(minutes(block.starts), minutes(block.ends)) for block in blocks)


def club_rules(register: Register) -> engine.ClubRules:
    """What the club has decided, as the engine asks it."""
    rules = register.rules
    return engine.ClubRules(
        adult_age=rules.adult_age,
        learner_ratio=rules.learners_per_lead,
        learner_rate=rules.learner_pace_percent / 100,
        watch_minutes=rules.watch_minutes,
        minor_latest=minutes(rules.minor_latest) if rules.minor_latest else None,
        minor_max_minutes=rules.minor_max_minutes,
        minors_per_adult=rules.minors_per_adult,
        guardian_required=rules.guardian_must_be_present,
    )


def people(
    coming: Sequence[Coming],
    register: Register,
    *,
    last_stations: Mapping[int, tuple[str, ...]],
    likes: Mapping[int, tuple[str, ...]],
    placed: Collection[int] = (),
    week: Mapping[int, int] | None = None,
) -> tuple[engine.Person, ...]:
    """Everybody on the list: those who come with their times, the others as people to ask.

    Who was taken off the list is left out, save those who answered or are ``placed``: a plan
    must not lose sight of them.
    """
    named = {each.person_id: each for each in coming}
    listed = [
        facts
        for facts in register.people.values()
        if facts.is_active or facts.id in named or facts.id in placed
    ]
    names = short_names(register.people.values())
    return tuple(
        _person(
            facts,
            named.get(facts.id),
            register,
            name=names[facts.id],
            last_stations=last_stations.get(facts.id, ()),
            likes=likes.get(facts.id, ()),
            week=(week or {}).get(facts.id, 0),
        )
        for facts in listed
    )


def _person(
    facts: PersonFacts,
    coming: Coming | None,
    register: Register,
    *,
    name: str,
    last_stations: tuple[str, ...],
    likes: tuple[str, ...],
    week: int,
) -> engine.Person:
    age = _age(facts)
    return engine.Person(
        id=str(facts.id),
        name=name,
        age=age,
        present=_working_hours(coming.present if coming else (), age, register, week=week),
        no_dust=facts.no_dust,
        seated_only=facts.seated_only,
        no_heavy=facts.no_heavy,
        needs_company=coming is not None and coming.needs_hand,
        likes=likes,
        guardians=_guardians(facts, register),
        sign_offs=tuple(
            engine.SignOff(
                station=str(station),
                level=LEVELS[signed.level],
                valid_until=signed.valid_until.isoformat() if signed.valid_until else None,
            )
            for station, signed in facts.signed.items()
        ),
        bars=_bars(facts, register),
        last_stations=last_stations,
    )


def _working_hours(
    present: tuple[engine.Span, ...], age: int | None, register: Register, *, week: int
) -> tuple[engine.Span, ...]:
    """The stretches in which somebody may work: all, but for hours the club adopted."""
    hours = hours_on(register.on, 99 if age is None else age)
    if not register.rules.young_hours or hours is None:
        return present
    left = min(hours.minutes_a_day, hours.minutes_a_week - week)
    found = []
    for span in present:
        start = max(span.start, minutes(hours.earliest))
        end = min(span.end, minutes(hours.latest), start + max(0, left))
        if start < end:
            found.append(engine.Span(start, end))
            left -= end - start
    return tuple(found)


def _age(facts: PersonFacts) -> int | None:
    # Nobody wrote down the age and nobody declared to be of age: the youngest there is.
    return 0 if facts.age is None and not facts.is_adult else facts.age


def _guardians(facts: PersonFacts, register: Register) -> tuple[str, ...]:
    return tuple(
        str(guardian)
        for guardian in facts.guardians
        if guardian in register.people
        and register.people[guardian].is_adult
        and register.people[guardian].is_active
    )


def _bars(facts: PersonFacts, register: Register) -> tuple[engine.Bar, ...]:
    bars = [
        engine.Bar(station=str(bar.station) if bar.station else None, reason=bar.reason)
        for bar in facts.bars
    ]
    bars += _bars_of_one_station(facts, register)
    station = next(iter(register.stations), None)
    if station is not None:
        answer = register.answer(facts.id, station)
        held = [answer.stopped_by(rule) for rule in (*EVERYWHERE, "on_the_list")]
        bars += [engine.Bar(reason=reason.text.rstrip(".")) for reason in held if reason]
    return tuple(bars)


def _bars_of_one_station(facts: PersonFacts, register: Register) -> list[engine.Bar]:
    """Rules of the gate that the engine knows as bars from single stations."""
    # Beside a lead is less than no place at all: where there is no lead, it is a bar.
    bars = [
        engine.Bar(station=str(each.station), reason=each.reason)
        for each in facts.only_with_a_lead
        if each.station in register.stations and not register.stations[each.station].has_learners
    ]
    if not register.rules.young_machines or facts.is_adult:
        return bars
    for station in register.stations:
        stop = register.answer(facts.id, station).stopped_by("young_machines")
        if stop:
            bars.append(engine.Bar(station=str(station), reason=stop.text.rstrip(".")))
    return bars


def stations(
    rows: Iterable[Station], register: Register, night: Night
) -> tuple[engine.Station, ...]:
    """The stations of the shop on this night, with what closes some of them."""
    return tuple(_station(row, register, night) for row in rows)


def _station(row: Station, register: Register, night: Night) -> engine.Station:
    has_straw = row.is_straw and register.rules.hot_and_straw_apart
    return engine.Station(
        id=str(row.pk),
        name=row.name,
        room=str(row.room),
        benches=row.benches,
        crew_min=row.crew_min,
        crew_max=row.crew_max,
        level_needed=_level_needed(row),
        min_age=row.age_min,
        is_hot=row.is_spark,
        is_hooded=row.is_hooded,
        has_straw=has_straw,
        is_dusty=row.is_dusty or row.is_straw,
        is_heavy=row.is_heavy,
        can_sit=row.can_sit,
        needs_buddy=row.needs_buddy,
        is_off_floor=row.is_off_floor or row.kind in OFF_FLOOR,
        is_fire_watch=row.kind == Station.Kind.FIRE_WATCH,
        prerequisites=tuple(str(needed.pk) for needed in row.prerequisites.all()),
        learner_ratio=row.learners_per_lead,
        tools={str(tool.pk): 1 for tool in row.tools.all()},
        wanted=row.heads_wanted,
        closed_because=closed_because(row, night),
    )


def _level_needed(row: Station) -> engine.Level | None:
    if row.level_needed is None:
        return None
    # Asking for "with a lead" is asking for "alone", with learners beside a lead.
    level = Level(row.level_needed)
    return LEVELS[Level.ALONE if level is Level.WITH_A_LEAD else level]


def closed_because(row: Station, night: Night) -> str:
    """Why a station is closed whoever comes; empty when it is not."""
    if not row.is_in_use:
        return "it is not in use any more"
    # Asked of the row itself: where nobody loaded the stops it costs a query, and none is missed.
    if stop := row.stopped_on(night.date):
        return stop.told
    if night.kind == Night.Kind.STEEL and row.is_straw:
        return "this is a steel night, no straw is handled"
    if night.kind == Night.Kind.STRAW and row.is_spark:
        return "this is a straw night, no sparks are made"
    return ""


def tools(rows: Iterable[Station], register: Register) -> tuple[engine.Tool, ...]:
    """The tools that the stations share, and how many of each no plan may count on."""
    rules = register.rules
    found = inspections_at(rows, rules, register.on)
    return tuple(
        engine.Tool(
            str(pk),
            f"{each.tool.name} ({each.stage})" if stops(each, rules) else each.tool.name,
            each.tool.count,
            unusable(each, rules),
        )
        for pk, each in found.items()
    )


def placed(
    rows: Iterable[Placing], blocks: Sequence[Block], problem: engine.Problem
) -> tuple[tuple[PlacedAt, ...], tuple[Watching, ...]]:
    """The placings that stand, as the rules read them; the engine times the watch."""
    index = {block.pk: position for position, block in enumerate(blocks)}
    rows = list(rows)
    placings = tuple(
        PlacedAt(str(row.person_id), index[row.block_id], str(row.station_id), row.bench,
                 Role(row.role))
        for row in rows
        if row.role != Placing.Role.WATCHES
    )  # fmt: skip
    watchers = [
        (str(row.person_id), str(row.room), index[row.block_id])
        for row in rows
        if row.role == Placing.Role.WATCHES
    ]
    return placings, stretches(problem, placings, watchers)


def locks(rows: Iterable[Placing], blocks: Sequence[Block]) -> tuple[engine.Lock, ...]:
    """Placings as locks, or as the plan that people already know."""
    index = {block.pk: position for position, block in enumerate(blocks)}
    return tuple(
        engine.Lock(str(row.person_id), index[row.block_id], str(row.station_id), _role(row))
        for row in rows
    )


def _role(row: Placing) -> Role | None:
    # Leading follows from who else stands there; a lock fixes the place, not that.
    kept = {Placing.Role.WATCHES: Role.WATCHES, Placing.Role.LEARNS: Role.LEARNS}
    return kept.get(Placing.Role(row.role))


def rows_of(
    plan: Plan, blocks: Sequence[Block], stations: Iterable[Station], *, run: PlacingRun
) -> list[Placing]:
    """A plan as rows, not saved; a watch is one row a block."""
    rooms = {str(row.room): row.room for row in stations}
    watch_station = plan.problem.watch_station
    rows = [
        Placing(
            night=run.night, block=blocks[each.block], person_id=int(each.person),
            station_id=int(each.station), bench=each.bench, role=each.role.value, run=run,
            why=plan.why(each)[:300],
        )
        for each in plan.placings
    ]  # fmt: skip
    if watch_station is None:
        return rows
    rows += [
        Placing(
            night=run.night, block=blocks[each.block], person_id=int(each.person),
            station_id=int(watch_station.id), role=Placing.Role.WATCHES, room=rooms[each.room],
            run=run, why=plan.why_watching(each)[:300],
        )
        for each in plan.watch
    ]  # fmt: skip
    return rows
