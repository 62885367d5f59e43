"""Placings by the engine: the whole night, or what is left of it. The gate is asked last."""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from inventory.engines.models import ENGINE_VERSION, EngineRun
from inventory.engines.stop import Seconds
from workshops.access.models import User
from workshops.nights import translate
from workshops.nights.actions.opened import check_open, hold
from workshops.nights.actions.steps import keep_step
from workshops.nights.changes import standing
from workshops.nights.engine.locks import LockRefused
from workshops.nights.engine.plan import Plan, Proof
from workshops.nights.engine.rules import breaches, title
from workshops.nights.engine.solve import solve
from workshops.nights.loading import Loaded, last_stations, likes_of, load, load_making
from workshops.nights.models import Change, Night, Placing, PlacingRun, TrainingDate
from workshops.nights.refusals import NightRefused
from workshops.nights.rest import Rest, rest_of
from workshops.nights.teaching import Lesson, lessons_of, rows_on, with_lessons
from workshops.nights.weighing import GATE
from workshops.people.names import short_names


@dataclass(frozen=True, slots=True)
class How:
    """How a plan is made: for how long, from which seed, by whom and when."""

    seconds: float = 5.0
    seed: int = 7
    by: User | None = None
    at: datetime | None = None


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
    check_open(night)
    return _planned(night, load(night), None, How(seconds, seed, by), keeping=keeping)


def replan_rest(
    *,
    night: Night,
    by: User | None,
    at: datetime,
    keeps_current: bool = True,
    seconds: float = 2.0,
    seed: int = 7,
) -> PlacingRun:
    """Place anew what is left of the night, with as few changes as the loss of little allows.

    Blocks that are over stand as they were, with ``keeps_current`` also the one that runs.
    It counts who is on the roll or comes later, and the racks and materials as the book has
    them now; who said yes, should be here and is not, is left out.

    Raises
    ------
    NightRefused
        When the night is over or cancelled, no block is left, or something locked breaks a
        rule.
    """
    check_open(night)
    rest = rest_of(load(night), at, keeps_current=keeps_current)
    return _planned(night, rest.loaded, rest, How(seconds, seed, by, at), keeping=True)


def _planned(
    night: Night, loaded: Loaded, rest: Rest | None, how: How, *, keeping: bool
) -> PlacingRun:
    locked = [row for row in loaded.placings if row.is_locked]
    problem = loaded.problem(
        making=load_making(night.shop),
        locks=translate.locks(locked, loaded.blocks),
        previous=translate.locks(loaded.placings, loaded.blocks) if keeping else (),
        last_stations=last_stations(night),
        likes=likes_of(night),
    )
    if rest is not None:
        problem = rest.problem_of(problem)
    lessons = lessons_of(loaded, problem, rows_on(night))
    try:
        plan = solve(with_lessons(problem, lessons), stop=Seconds(how.seconds), seed=how.seed)
    except LockRefused as refused:
        raise NightRefused(
            f"{refused} Somebody was fixed there by hand, against the rule "
            f"“{title(refused.rule)}”: let that go, or mend what stops it."
        ) from refused
    return _store(night, plan, lessons, how, first=rest.first if rest else 0)


@transaction.atomic
def _store(
    night: Night, plan: Plan, lessons: Sequence[Lesson], how: How, *, first: int
) -> PlacingRun:
    # Held until the placings are written: who is stopped now is seen, who is stopped later
    # finds them and takes them away.
    held = hold(night)
    loaded = load(night)
    run = PlacingRun.objects.create(
        shop=night.shop, night=night, made_by=how.by, seed=how.seed, version=ENGINE_VERSION,
        problem=plan.problem.to_json(), result=plan.to_json(), objective=plan.output.worth,
        bound=plan.bound, seconds=plan.seconds, from_block=first,
        status=EngineRun.Status.PROVEN if plan.proof is Proof.BEST else EngineRun.Status.FOUND,
    )  # fmt: skip
    blocks = loaded.blocks[first:]
    gone = [row for row in loaded.placings if row.block_id in {block.pk for block in blocks}]
    past = [row for row in loaded.placings if row not in gone]
    rows = translate.rows_of(plan, blocks, loaded.stations, run=run)
    kept = _still_allowed(loaded, _with_locked(gone, rows), past)
    before = standing(gone, held.plan_id)
    Placing.objects.filter(pk__in=[row.pk for row in gone]).delete()
    made = Placing.objects.bulk_create(_told(loaded, kept, lessons))
    for lesson in lessons:
        TrainingDate.objects.filter(pk=lesson.row.pk).update(why_not=lesson.why_not[:300])
    night.plan = run
    night.save(update_fields=["plan"])
    kind = Change.Kind.REST if first else Change.Kind.PLAN
    keep_step(night, kind, before, standing(made, run.pk), by=how.by, at=how.at)
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


def _with_locked(standing: Sequence[Placing], rows: list[Placing]) -> list[Placing]:
    """The plan's rows, and in their place whatever stands fixed by hand by now."""
    locked = {(row.person_id, row.block_id): row for row in standing if row.is_locked}
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
        kept = copy(fixed)
        kept.pk = None
        found.append(kept)
    return found


def _still_allowed(
    loaded: Loaded, rows: list[Placing], past: Sequence[Placing] = ()
) -> list[Placing]:
    """The rows that the gate and closed stations let through, on facts read after the engine."""
    placings, watch = translate.placed([*past, *rows], loaded.blocks, loaded.bare)
    stopped = {
        (person, breach.station)
        for breach in breaches(loaded.bare, placings, watch)
        if breach.rule in GATE
        for person in breach.people
    }
    # A station closed while the engine worked takes nobody, whatever the plan still says.
    closed = {each.id for each in loaded.bare.stations if each.closed_because}
    return [
        row
        for row in rows
        if (str(row.person_id), str(row.station_id)) not in stopped
        and str(row.station_id) not in closed
    ]
