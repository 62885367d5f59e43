"""Who may stand where: the rules that concern one person, as columns that exist or do not.

``off`` names rules to leave out: the explanations ask what a night would be without one.
"""

from __future__ import annotations

from workshops.nights.engine.people import Level, Person
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.stations import Station

NOTHING: frozenset[str] = frozenset()


def level_tonight(problem: Problem, person: Person, training: str) -> Level | None:
    """The level on the night's register; none when there is no line or it has ended."""
    line = person.sign_off(training)
    if line is None or (line.valid_until is not None and line.valid_until < problem.date):
        return None
    return line.level


def is_barred(problem: Problem, person: Person, training: str, *, everywhere: bool = True) -> bool:
    """Whether a bar in force keeps the person away; ``everywhere`` counts bars from all work."""
    return any(
        (bar.station == training or (everywhere and bar.station is None))
        and (bar.until is None or bar.until >= problem.date)
        for bar in person.bars
    )


def may_work(problem: Problem, person: Person, station: Station) -> bool:
    """Whether the level allows work there without a lead."""
    level = level_tonight(problem, person, station.id)
    needed = station.level_needed
    return needed is None or (level is not None and level.rank >= needed.rank)


def may_learn(problem: Problem, person: Person, station: Station) -> bool:
    """Whether the level allows work there beside a lead, and not without one."""
    level = level_tonight(problem, person, station.id)
    is_learner = level is not None and level.rank >= Level.WITH_A_LEAD.rank
    return is_learner and station.takes_learners and not may_work(problem, person, station)


def may_lead(problem: Problem, person: Person, station: Station) -> bool:
    """Whether learners may work beside the person there."""
    level = level_tonight(problem, person, station.id)
    leads = level is not None and level.rank >= Level.MAY_LEAD.rank
    return leads and may_work(problem, person, station)


def _lacks_prerequisite(problem: Problem, person: Person, station: Station) -> bool:
    for training in station.prerequisites:
        level = level_tonight(problem, person, training)
        base = problem.station.get(training)
        asked = base.level_needed if base else None
        if level is None or (asked is not None and level.rank < asked.rank):
            return True
        if is_barred(problem, person, training, everywhere=False):
            return True
    return False


def _is_too_young(problem: Problem, person: Person, station: Station) -> bool:
    age = problem.club.adult_age if person.age is None else person.age
    return station.min_age is not None and age < station.min_age


def _is_limited(person: Person, station: Station) -> bool:
    is_dusty = station.is_dusty or station.has_straw
    return (
        (person.no_dust and is_dusty)
        or (person.seated_only and not station.can_sit)
        or (person.no_heavy and station.is_heavy)
    )


def stops(problem: Problem, person: Person, station: Station) -> tuple[str, ...]:
    """Names of the rules that keep the person from the station all night."""
    signed = may_work(problem, person, station) or (
        may_learn(problem, person, station) and not station.is_fire_watch
    )
    found = {
        "sign_off": not signed,
        "barred": is_barred(problem, person, station.id),
        "prerequisites": _lacks_prerequisite(problem, person, station),
        "minimum_age": _is_too_young(problem, person, station),
        "personal_limits": _is_limited(person, station),
        "out_of_service": bool(station.closed_because),
        "fire_watch_only": station.is_fire_watch and not problem.is_adult(person),
        "hot_and_straw": _is_against_before(problem, station),
        "alarm_hand": station.is_fire_watch and person.needs_company,
        "fire_watch": station.is_hot and problem.watch_station is None,
    }
    return tuple(rule for rule, is_stopping in found.items() if is_stopping)


def _is_against_before(problem: Problem, station: Station) -> bool:
    before = problem.before
    return (station.is_hot and station.room in before.straw_rooms) or (
        station.has_straw and station.room in before.sparks
    )


def stops_in(problem: Problem, person: Person, block: int, *, is_hot: bool) -> tuple[str, ...]:
    """Names of the rules that keep the person from work, hot work or not, in the block."""
    span, latest = problem.blocks[block], problem.club.minor_latest
    is_late = latest is not None and span.end > latest
    found = {
        "presence": not person.is_present(span.start, span.end),
        "breaks": block in person.breaks,
        "minor_hours": is_late and not problem.is_adult(person),
        "last_spark": is_hot and span.end > problem.last_spark,
    }
    return tuple(rule for rule, is_stopping in found.items() if is_stopping)
