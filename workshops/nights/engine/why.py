"""Why a station is closed: the few rules that together stop it, and what would open it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from workshops.nights.engine import model_gates as gates
from workshops.nights.engine.board import Board, spell_day, spell_minute, spell_names
from workshops.nights.engine.output import Output
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.repairs import Change, cheapest_changes
from workshops.nights.engine.rules import title
from workshops.nights.engine.stations import Station
from workshops.nights.engine.tonight import only_for, opened_somewhere

MOST_NAMED = 3  # people named in a sentence
# Tried first to last, each left out when the station stays closed without it: what a person
# would rather hear about comes last. The crew minimum is what being open means and stays.
_SELDOM = (
    "one_place", "crew_maximum", "tool_count", "floor_places", "learner_beside_lead", "buddy",
    "supervision", "alarm_hand", "minor_hours", "minimum_age", "fire_watch_only", "breaks",
    "out_of_service", "hot_and_straw", "locks_kept",
)  # fmt: skip
_OFTEN = ("personal_limits", "barred", "prerequisites", "last_spark", "fire_watch")
_LAST = ("presence", "sign_off")


@dataclass(frozen=True, slots=True)
class Closed:
    """A station at which nobody is placed, and why.

    Parameters
    ----------
    reason
        One or two sentences.
    rules
        Names of the rules that together stop it, none of which could be spared; empty: no
        rule does, it is closed because tonight's people make more elsewhere.
    could_cover
        Ids of people here tonight who may work there, were it not for something else.
    nearly
        Ids of people whose sign-off ended, the latest first.
    changes
        The cheapest change of facts that would open it; never one against a rule.
    """

    station: str
    reason: str
    rules: tuple[str, ...] = ()
    could_cover: tuple[str, ...] = ()
    nearly: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()


def closed_stations(board: Board, output: Output) -> tuple[Closed, ...]:
    """Every station at which nobody is placed all night, with the reason."""
    in_use = {placing.station for placing in board.placings}
    benches = board.problem.benches
    return tuple(why_closed(board, output, each.id) for each in benches if each.id not in in_use)


def why_closed(board: Board, output: Output, station_id: str) -> Closed:
    """Why this station is closed.

    Notes
    -----
    The night is cut down to the station and what it needs (its fire watch, buddies, what is
    fixed by hand). If it can open there, nothing stops it and others simply make more. If
    not, rules are left out one after the other; those without which it would open remain.
    """
    problem, station = board.problem, board.problem.station[station_id]
    cover, nearly = could_cover(problem, station), nearly_current(problem, station)
    if station.closed_because or not station.benches:
        reason = station.closed_because or "It has no bench tonight"
        return Closed(station_id, _sentence(reason), ("out_of_service",), cover, nearly)
    if station in problem.spare_jobs:
        return Closed(station_id, "Nobody is left without a place, so this job waits.")
    if station.is_hot and problem.blocks and problem.blocks[0].end > problem.last_spark:
        # Without this the people who are away would be blamed for an early lock-up.
        return Closed(station_id, _too_early(problem), ("last_spark",), cover, nearly)
    small = only_for(problem, station)
    if opened_somewhere(small, station_id):
        return Closed(station_id, _idle_reason(board, output, station), (), cover, nearly)
    rules = conflict(small, station_id)
    if not rules:
        reason = f"Not enough people are on tonight's list for {station.name}."
        return Closed(station_id, reason, ("crew_minimum",), cover, nearly)
    reason = " ".join(dict.fromkeys(_said(problem, station, rule) for rule in rules))
    changes = cheapest_changes(small, station_id)
    return Closed(station_id, reason, rules, cover, nearly, changes)


def conflict(small: Problem, station: str) -> tuple[str, ...]:
    """A minimal set of rules that together keep the station closed, by leaving out in turn."""
    off: frozenset[str] = frozenset()
    for several in (_SELDOM, _OFTEN):
        if not opened_somewhere(small, station, off | set(several)):
            off |= set(several)
            continue
        for rule in several:
            if not opened_somewhere(small, station, off | {rule}):
                off |= {rule}
    for rule in _LAST:
        if not opened_somewhere(small, station, off | {rule}):
            off |= {rule}
    order = (*reversed(_LAST), *_OFTEN, *_SELDOM)
    return tuple(rule for rule in order if rule not in off)


def could_cover(problem: Problem, station: Station) -> tuple[str, ...]:
    """Ids of people here at some time tonight who may work there without a lead."""
    return tuple(
        person.id
        for person in problem.people
        if person.present
        and gates.may_work(problem, person, station)
        and not set(gates.stops(problem, person, station)) - {"out_of_service", "fire_watch"}
    )


def nearly_current(problem: Problem, station: Station) -> tuple[str, ...]:
    """Ids of people whose sign-off there was high enough and has ended, the latest first."""
    lapsed = []
    for person in problem.people:
        line = person.sign_off(station.id)
        if line is None or line.valid_until is None or line.valid_until >= problem.date:
            continue
        if line.level.covers(station.level_needed):
            lapsed.append((line.valid_until, person.id))
    return tuple(person for _, person in sorted(lapsed, reverse=True))


def _idle_reason(board: Board, output: Output, station: Station) -> str:
    """No rule stops it: nothing to work on, or more is made elsewhere."""
    problem = board.problem
    operations = [each for each in problem.operations if each.station == station.id]
    if not operations:
        return "No rule stops it; nothing is made there, and the others are needed elsewhere."
    last = len(problem.blocks) - 1
    for each in operations:
        missing = [m.name for m in problem.materials if m.on_hand < each.materials.get(m.id, 0)]
        racks = [
            piece.name
            for piece in problem.pieces
            if max(piece.on_rack, output.racks.get(piece.id, 0)) < each.uses.get(piece.id, 0)
        ]
        if missing or racks:
            return f"Nothing to work on: {spell_names(missing + racks)} short for {each.name}."
        piece = next(piece for piece in problem.pieces if piece.id == each.makes)
        if last >= 0 and piece.rack_limit is not None and piece.on_rack >= piece.rack_limit:
            return f"The rack of {piece.name} is full."
    return "No rule stops it; tonight's people make more for the winter elsewhere."


def _said(problem: Problem, station: Station, rule: str) -> str:
    """The rule in a sentence about tonight's people."""
    tell = _TELL.get(rule)
    return tell(problem, station) if tell else _sentence(title(rule))


def _tell_sign_off(problem: Problem, station: Station) -> str:
    here = [problem.person[each].name for each in could_cover(problem, station)]
    more = f"; a bench needs {station.crew_least}" if station.crew_least > 1 else ""
    if not here:
        told = f"Nobody here tonight may work at {station.name} by a current sign-off."
    else:
        told = f"Only {spell_names(here)} may work at {station.name} tonight{more}."
    lapsed = [problem.person[each] for each in nearly_current(problem, station)[:MOST_NAMED]]
    for person in lapsed:
        line = person.sign_off(station.id)
        told = f"{told} {person.name}'s ended on {spell_day(line.valid_until if line else None)}."
    return told


def _tell_presence(problem: Problem, station: Station) -> str:
    away = [
        person.name
        for person in problem.people
        if not gates.stops(problem, person, station)
        and gates.may_work(problem, person, station)
        and not any(person.is_present(span.start, span.end) for span in problem.blocks)
    ]
    if not away:
        return "Those who could are not here at the right time."
    more = f" and {len(away) - MOST_NAMED} more" if len(away) > MOST_NAMED else ""
    verb = "is" if len(away) == 1 else "are"
    return f"{spell_names(away[:MOST_NAMED])}{more} could, and {verb} not here."


def _tell_watch(problem: Problem, _station: Station) -> str:
    duty = problem.watch_station
    if duty is None:
        return "There is no fire watch tonight, so nothing hot is done."
    able = [p for p in problem.people if p.present and not gates.stops(problem, p, duty)]
    until = spell_minute(problem.blocks[0].end + problem.club.watch_minutes)
    if not able:
        return "Nobody here tonight may keep the fire watch."
    names = spell_names(person.name for person in able[:MOST_NAMED])
    return f"The fire watch lasts until {until} at least, and only {names} may keep it."


def _too_early(problem: Problem) -> str:
    spark, end = spell_minute(max(0, problem.last_spark)), spell_minute(problem.blocks[0].end)
    return f"Last spark would be at {spark}, before the first block ends at {end}: no hot work."


def _tell_last_spark(problem: Problem, _station: Station) -> str:
    at = spell_minute(max(0, problem.last_spark))
    return f"Last spark is at {at}, before any block with the people for it ends."


def _tell_breaks(problem: Problem, station: Station) -> str:
    able = [problem.person[each] for each in could_cover(problem, station)]
    told = [
        f"{person.name} has a break from {spell_minute(problem.blocks[block].start)}."
        for person in able
        for block in person.breaks
    ]
    return " ".join(told[:MOST_NAMED]) or _sentence(title("breaks"))


def _tell_tools(problem: Problem, station: Station) -> str:
    told = [
        f"{tool.count - tool.out_of_service} of {tool.count} {tool.name} in working order; "
        f"a bench needs {station.tools[tool.id]}."
        for tool in problem.tools
        if tool.id in station.tools
    ]
    return " ".join(told) or _sentence(title("out_of_service"))


def _tell_one_place(_problem: Problem, station: Station) -> str:
    if station.is_hot:
        return "Nobody can work there and keep its fire watch at once."
    return "The same people would be needed in two places at once."


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:].rstrip('.')}."


_TELL: dict[str, Callable[[Problem, Station], str]] = {
    "sign_off": _tell_sign_off,
    "presence": _tell_presence,
    "fire_watch": _tell_watch,
    "last_spark": _tell_last_spark,
    "breaks": _tell_breaks,
    "tool_count": _tell_tools,
    "out_of_service": _tell_tools,
    "one_place": _tell_one_place,
}
