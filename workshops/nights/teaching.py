"""The training timetable of a night: what of it can stand, and what stands in the way.

A line becomes two fixed placings a block, the learner's and the lead's. It is looked at by
the same rules as a move by hand, and left out with the reason where one of them stops it:
the plan of a night never fails over its timetable.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from inventory.engines.stop import Seconds
from workshops.nights.engine.locks import LockRefused, check_locks, check_together
from workshops.nights.engine.placings import Beside, Lock, Role
from workshops.nights.engine.problem import Problem
from workshops.nights.loading import Loaded
from workshops.nights.models import Night, Placing, TrainingDate
from workshops.nights.translate import closed_because
from workshops.people.gate import Doing
from workshops.people.names import short_names

FEASIBLE = Seconds(3)  # to find out whether two people can stand together at all


@dataclass(frozen=True, slots=True)
class Lesson:
    """One line of the timetable in a plan: its blocks, or why it has none."""

    row: TrainingDate
    blocks: tuple[int, ...] = ()
    why_not: str = ""

    def locks(self, blocks: Sequence[int] | None = None) -> tuple[Lock, ...]:
        """The placings that keep it, in its blocks or in those given."""
        station = str(self.row.station_id)
        return tuple(
            lock
            for block in (self.blocks if blocks is None else blocks)
            for lock in (
                Lock(str(self.row.learner_id), block, station, Role.LEARNS),
                Lock(str(self.row.lead_id), block, station),
            )
        )

    @property
    def pair(self) -> Beside:
        """Who is to stand beside whom."""
        return Beside(str(self.row.learner_id), str(self.row.lead_id), str(self.row.station_id))


@dataclass(frozen=True, slots=True)
class TrainingLine:
    """A line of the timetable as the board shows it; ``is_kept``: a plan has the two together."""

    row: TrainingDate
    learner: str
    lead: str
    is_kept: bool
    why_not: str


def rows_on(night: Night) -> list[TrainingDate]:
    """The timetable of a night. 1 query."""
    rows = TrainingDate.objects.filter(night=night)
    return list(rows.select_related("learner", "lead", "station", "night"))


def lessons_of(
    loaded: Loaded, problem: Problem, rows: Iterable[TrainingDate], stop: Seconds = FEASIBLE
) -> list[Lesson]:
    """What of the timetable can stand with what is fixed by hand, the earlier lines first.

    Parameters
    ----------
    problem
        The night with what is fixed by hand as its locks.
    """
    found: list[Lesson] = []
    locks = problem.locks
    for row in rows:
        lesson = _fitted(loaded, replace(problem, locks=locks), row, stop)
        locks += tuple(each for each in lesson.locks() if each not in locks)
        found.append(lesson)
    return found


def with_lessons(problem: Problem, lessons: Iterable[Lesson]) -> Problem:
    """The night with its timetable fixed."""
    kept = [lesson for lesson in lessons if lesson.blocks]
    locks = dict.fromkeys([*problem.locks, *(lock for each in kept for lock in each.locks())])
    return replace(problem, locks=tuple(locks), beside=tuple(each.pair for each in kept))


def _fitted(loaded: Loaded, problem: Problem, row: TrainingDate, stop: Seconds) -> Lesson:
    why_not = _before_any_plan(loaded, row)
    if why_not:
        return Lesson(row, why_not=why_not)
    open_to, why_not = _blocks(problem, Lesson(row))
    # The whole evening where that can be, else one stretch of it.
    for blocks in dict.fromkeys([open_to, *((each,) for each in open_to)]):
        if not blocks:
            continue
        try:
            check_together(_fixed(problem, Lesson(row), blocks), stop)
        except LockRefused as refused:
            why_not = refused.message
        else:
            return Lesson(row, blocks)
    return Lesson(row, why_not=why_not or "The night has no stretch of work.")


def _blocks(problem: Problem, lesson: Lesson) -> tuple[tuple[int, ...], str]:
    """The blocks in which no rule about the two alone stops it; the first reason of the others."""
    found, why_not = [], ""
    for block in range(len(problem.blocks)):
        try:
            check_locks(_fixed(problem, lesson, (block,)))
        except LockRefused as refused:
            why_not = why_not or refused.message
        else:
            found.append(block)
    return tuple(found), why_not


def _fixed(problem: Problem, lesson: Lesson, blocks: Sequence[int]) -> Problem:
    new = tuple(each for each in lesson.locks(blocks) if each not in problem.locks)
    return replace(problem, locks=(*problem.locks, *new))


def _before_any_plan(loaded: Loaded, row: TrainingDate) -> str:
    """What is known without a plan: who comes, what the gate says, whether the station opens."""
    coming = {each.person_id: each for each in loaded.coming}
    names = short_names(loaded.register.people.values())
    away = [
        names.get(each, "somebody")
        for each in (row.learner_id, row.lead_id)
        if each not in coming or not coming[each].is_expected
    ]
    if away:
        return f"Not expected that night: {' and '.join(away).rstrip('.')}."
    if closed := closed_because(row.station, row.night):
        return f"{row.station} is closed: {closed}."
    return next(_stopped(loaded, row), "")


def _stopped(loaded: Loaded, row: TrainingDate) -> Iterator[str]:
    asked = ((row.learner_id, Doing.LEARNS), (row.lead_id, Doing.LEADS))
    for person, doing in asked:
        for reason in loaded.register.answer(person, row.station_id, doing).reasons:
            public = reason.in_public()
            yield f"{public.text} {public.remedy}"


def together(row: TrainingDate, placings: Iterable[Placing]) -> bool:
    """Whether placings have the two at one bench, the one learning. No query."""
    there = [each for each in placings if each.station_id == row.station_id]
    benches = {(each.block_id, each.bench) for each in there if each.person_id == row.lead_id}
    return any(
        (each.block_id, each.bench) in benches
        for each in there
        if each.person_id == row.learner_id and each.role == Placing.Role.LEARNS
    )


def training_on(
    night: Night, names: dict[int, str], placings: Sequence[Placing]
) -> list[TrainingLine]:
    """The timetable of a night beside the placings that stand. 1 query.

    Empty, without one, where whoever loaded the night saw that it has no timetable.
    """
    rows = rows_on(night) if getattr(night, "has_training", True) else []
    return [_line(row, placings, names) for row in rows]


def _line(row: TrainingDate, placings: Sequence[Placing], names: dict[int, str]) -> TrainingLine:
    is_kept = together(row, placings)
    why_not = (
        ""
        if is_kept or not placings
        else (row.why_not or "They do not stand together in the plan as it is now.")
    )
    return TrainingLine(
        row, names.get(row.learner_id, str(row.learner)), names.get(row.lead_id, str(row.lead)),
        is_kept, why_not,
    )  # fmt: skip
