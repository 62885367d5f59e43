"""Placings, by the engine and by hand. Both ask the same rules, on facts read anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from django.db import transaction

from inventory.engines.models import ENGINE_VERSION, EngineRun
from inventory.engines.stop import Seconds
from inventory.places.models import Room
from workshops.access.models import User
from workshops.nights import translate
from workshops.nights.engine.board import Breach
from workshops.nights.engine.locks import LockRefused
from workshops.nights.engine.plan import Plan, Proof
from workshops.nights.engine.rules import breaches, title
from workshops.nights.engine.solve import solve
from workshops.nights.loading import Loaded, last_stations, likes_of, load, load_making
from workshops.nights.models import Block, Night, Placing, PlacingRun, TrainingDate
from workshops.nights.refusals import NightRefused, PlacingRefused
from workshops.nights.teaching import Lesson, lessons_of, rows_on, with_lessons
from workshops.people.actions import hold_register
from workshops.people.models import Person
from workshops.people.names import short_names
from workshops.stations.models import Level, Station

# Broken by whoever is moved, these refuse the move. The others (a crew not yet full, a watch
# not yet named) are how a plan looks while it is put together, and are shown at once.
REFUSING = frozenset({
    "sign_off", "barred", "prerequisites", "minimum_age", "minor_hours", "personal_limits",
    "presence", "breaks", "last_spark", "hot_and_straw", "out_of_service", "fire_watch_only",
    "learner_beside_lead", "learner_ratio", "supervision", "crew_maximum", "one_place",
})  # fmt: skip
# These keep a person off a station whatever the plan looks like: the gate.
GATE = frozenset({
    "sign_off", "barred", "prerequisites", "minimum_age", "personal_limits", "minor_hours",
})  # fmt: skip


def plan_night(
    *,
    night: Night,
    by: User | None,
    seconds: float = 5.0,
    seed: int = 7,
    keeping: bool = True,
) -> PlacingRun:
    """Place everybody who is expected, keep what is locked, store run and placings.

    With ``keeping`` a plan that stands is changed as little as the loss of one in a hundred
    allows. Who was barred while the engine worked is taken out again before anything is
    stored, and what was fixed by hand meanwhile stays. With nobody expected the plan is
    empty, and says of every station who could be asked. The training timetable is kept
    where it can be, and each line of it that cannot says why.

    Raises
    ------
    NightRefused
        When the night is over or cancelled, or something locked breaks a rule.
    """
    _check_open(night)
    loaded, making = load(night), load_making(night.shop)
    locked = [row for row in loaded.placings if row.is_locked]
    problem = loaded.problem(
        making=making,
        locks=translate.locks(locked, loaded.blocks),
        previous=translate.locks(loaded.placings, loaded.blocks) if keeping else (),
        last_stations=last_stations(night),
        likes=likes_of(night),
    )
    lessons = lessons_of(loaded, problem, rows_on(night))
    try:
        plan = solve(with_lessons(problem, lessons), stop=Seconds(seconds), seed=seed)
    except LockRefused as refused:
        raise NightRefused(
            f"{refused} Somebody was fixed there by hand, against the rule "
            f"“{title(refused.rule)}”: let that go, or mend what stops it."
        ) from refused
    return _store(night, plan, lessons, seed=seed, by=by)


@transaction.atomic
def _store(
    night: Night, plan: Plan, lessons: Sequence[Lesson], *, seed: int, by: User | None
) -> PlacingRun:
    _check_open(Night.objects.select_for_update().get(pk=night.pk))
    # Held until the placings are written: who is stopped now is seen, who is stopped later
    # finds them and takes them away.
    hold_register(night.shop)
    loaded = load(night)
    run = PlacingRun.objects.create(
        shop=night.shop, night=night, made_by=by, seed=seed, version=ENGINE_VERSION,
        problem=plan.problem.to_json(), result=plan.to_json(), objective=plan.output.worth,
        bound=plan.bound, seconds=plan.seconds,
        status=EngineRun.Status.PROVEN if plan.proof is Proof.BEST else EngineRun.Status.FOUND,
    )  # fmt: skip
    rows = translate.rows_of(plan, loaded.blocks, loaded.stations, run=run)
    kept = _still_allowed(loaded, _with_locked(loaded, rows))
    Placing.objects.filter(night=night).delete()
    Placing.objects.bulk_create(_told(loaded, kept, lessons))
    for lesson in lessons:
        TrainingDate.objects.filter(pk=lesson.row.pk).update(why_not=lesson.why_not[:300])
    night.plan = run
    night.save(update_fields=["plan"])
    return run


def _told(loaded: Loaded, rows: list[Placing], lessons: Sequence[Lesson]) -> list[Placing]:
    """The rows of learners with the timetable as their reason."""
    names = short_names(loaded.register.people.values())
    taught = {(each.row.learner_id, each.row.station_id): each.row for each in lessons}
    for row in rows:
        date = taught.get((row.person_id, row.station_id))
        if date and row.role == Placing.Role.LEARNS:
            learner, lead = names[date.learner_id], names[date.lead_id]
            row.why = f"{learner} learns at {date.station} beside {lead}: the training timetable."
    return rows


def _with_locked(loaded: Loaded, rows: list[Placing]) -> list[Placing]:
    """The plan's rows, and in their place whatever stands fixed by hand by now."""
    locked = {(row.person_id, row.block_id): row for row in loaded.placings if row.is_locked}
    found = []
    for row in rows:
        fixed = locked.get((row.person_id, row.block_id))
        if fixed is not None and fixed.station_id != row.station_id:
            continue
        if fixed is not None:
            row.is_locked = True
            del locked[row.person_id, row.block_id]
        found.append(row)
    for fixed in locked.values():
        fixed.pk = None
        found.append(fixed)
    return found


def _still_allowed(loaded: Loaded, rows: list[Placing]) -> list[Placing]:
    """The rows that the gate lets through on facts read after the engine was done."""
    placings, watch = translate.placed(rows, loaded.blocks, loaded.bare)
    stopped = {
        (person, breach.station)
        for breach in breaches(loaded.bare, placings, watch)
        if breach.rule in GATE
        for person in breach.people
    }
    return [row for row in rows if (str(row.person_id), str(row.station_id)) not in stopped]


@transaction.atomic
def place(
    *,
    night: Night,
    block: Block,
    person: Person,
    station: Station,
    is_locked: bool = True,
) -> tuple[Breach, ...]:
    """Put a person at a station for a block, and give every breach the plan has now.

    Raises
    ------
    PlacingRefused
        When the move itself breaks a rule that no plan may break.
    NightRefused
        When the night is over, or something belongs to another night or shop.
    """
    _check_open(night)
    _check_belongs(night, block=block, person=person, station=station)
    _check_open(Night.objects.select_for_update().get(pk=night.pk))
    hold_register(night.shop)
    before = load(night)
    Placing.objects.filter(block=block, person=person).delete()
    others = [row for row in before.placings if row.block_id == block.pk]
    row = _row(before, others, block=block, person=person, station=station)
    row.is_locked = is_locked
    row.save()
    was = set(_breaches(before))
    # The register is held, so nothing but the placings can differ from what was read.
    rows = list(Placing.objects.filter(night=night).select_related("room"))
    found = _breaches(replace(before, placings=rows))
    broken = [
        breach
        for breach in found
        if (breach.rule in REFUSING and breach not in was) or _is_stopped(breach, row)
    ]
    if broken:
        raise PlacingRefused(broken)
    return found


def _is_stopped(breach: Breach, row: Placing) -> bool:
    # Also when it stood there before: nobody is put anew where the gate says no by now.
    at = (str(row.station_id), (str(row.person_id),))
    return breach.rule in GATE and (breach.station, breach.people) == at


def _row(
    loaded: Loaded, others: Sequence[Placing], *, block: Block, person: Person, station: Station
) -> Placing:
    there = [row for row in others if row.station_id == station.pk and row.person_id != person.pk]
    row = Placing(
        night=loaded.night, block=block, person=person, station=station, why="Placed by hand."
    )
    if station.kind == Station.Kind.FIRE_WATCH:
        row.role, row.room = Placing.Role.WATCHES, _room_to_watch(loaded, others)
        return row
    signed = loaded.register.people[person.pk].current(station.pk, loaded.night.date)
    if signed and station.level_needed and signed.level == Level.WITH_A_LEAD:
        row.role = Placing.Role.LEARNS
    row.bench = _bench(there, station, row.role)
    return row


def _room_to_watch(loaded: Loaded, others: Sequence[Placing]) -> Room:
    stations = {row.pk: row for row in loaded.stations}
    hot = [stations[row.station_id].room for row in others if stations[row.station_id].is_spark]
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


@transaction.atomic
def unplace(*, night: Night, block: Block, person: Person) -> tuple[Breach, ...]:
    """Take a person out of a block, and give every breach the plan has now.

    Raises
    ------
    NightRefused
        When the night is over.
    """
    _check_open(night)
    Night.objects.select_for_update().get(pk=night.pk)
    Placing.objects.filter(night=night, block=block, person=person).delete()
    return _breaches(load(night))


@transaction.atomic
def set_lock(*, placing: Placing, is_locked: bool) -> Placing:
    """Fix a placing for the next plan, or let it go.

    Raises
    ------
    NightRefused
        When the night is over.
    PlacingRefused
        When what is to be fixed breaks a rule that no plan may break.
    """
    _check_open(Night.objects.select_for_update().get(pk=placing.night_id))
    hold_register(placing.night.shop)
    if not Placing.objects.filter(pk=placing.pk).exists():
        raise NightRefused("That placing was changed meanwhile: look at the board again.")
    if is_locked:
        _check_lawful(placing)
    placing.is_locked = is_locked
    placing.save(update_fields=["is_locked"])
    return placing


def _check_lawful(placing: Placing) -> None:
    loaded = load(placing.night)
    at = [block.pk for block in loaded.blocks].index(placing.block_id)
    found = [
        breach
        for breach in _breaches(loaded)
        if breach.rule in REFUSING
        and str(placing.person_id) in breach.people
        and breach.block in (None, at)
    ]
    if found:
        raise PlacingRefused(found)


def _breaches(loaded: Loaded) -> tuple[Breach, ...]:
    return breaches(loaded.bare, *loaded.placed())


def _check_open(night: Night) -> None:
    if night.status != Night.Status.PLANNED:
        raise NightRefused(f"The night of {night} is {night.get_status_display()}.")


def _check_belongs(night: Night, *, block: Block, person: Person, station: Station) -> None:
    if block.night_id != night.pk:
        raise NightRefused("That block belongs to another night.")
    if person.shop_id != night.shop_id or station.shop_id != night.shop_id:
        raise NightRefused("Person and station must belong to this shop.")
    if not station.is_in_use:
        raise NightRefused(f"{station} is not in use.")
