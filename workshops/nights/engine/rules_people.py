"""Hard rules about one person at one station: what the register, the clock and the body allow."""

from __future__ import annotations

from collections.abc import Iterator

from workshops.nights.engine.board import (
    Board,
    Breach,
    Stint,
    current_level,
    is_current,
    spell_day,
    spell_minute,
)
from workshops.nights.engine.people import Bar, Level
from workshops.nights.engine.placings import Role
from workshops.nights.engine.problem import Problem


def sign_off(board: Board) -> Iterator[Breach]:
    """Somebody works without a current sign-off at the level the station asks."""
    for stint in board.stints:
        needed = stint.station.level_needed
        if needed is None:
            continue
        # That somebody may lead them is another rule's question.
        wanted = Level.WITH_A_LEAD if stint.role is Role.LEARNS else needed
        level = current_level(board.problem, stint.person, stint.station.id)
        if level is None or not level.covers(wanted):
            yield _at("sign_off", stint, _why_not_signed(board.problem, stint, wanted))


def _why_not_signed(problem: Problem, stint: Stint, wanted: Level) -> str:
    name, station = stint.person.name, stint.station.name
    line = stint.person.sign_off(stint.station.id)
    if line is None:
        return f"{name} has no sign-off for {station}."
    if not is_current(problem, stint.person, stint.station.id):
        return f"{name}'s sign-off for {station} ended on {spell_day(line.valid_until)}."
    return f"{name} is signed off for {station} as “{_said(line.level)}”, not “{_said(wanted)}”."


def barred(board: Board) -> Iterator[Breach]:
    """Somebody works where a bar or suspension keeps them away."""
    for stint in board.stints:
        for bar in stint.person.bars:
            if bar.station in (None, stint.station.id) and is_in_force(board.problem, bar):
                until = f" until {spell_day(bar.until)}" if bar.until else ""
                reason = f": {bar.reason}" if bar.reason else ""
                message = f"{stint.person.name} is barred from {stint.station.name}{until}{reason}."
                yield _at("barred", stint, message)


def is_in_force(problem: Problem, bar: Bar) -> bool:
    """Whether the bar counts on the night."""
    return bar.until is None or bar.until >= problem.date


def prerequisites(board: Board) -> Iterator[Breach]:
    """Somebody works at a station without a current sign-off that it builds on."""
    for stint in board.stints:
        for needed in stint.station.prerequisites:
            if not _holds(board.problem, stint, needed):
                known = board.problem.station.get(needed)
                name = known.name if known else needed
                message = f"{stint.station.name} needs a current sign-off for {name} first"
                yield _at("prerequisites", stint, f"{message}; {stint.person.name} has none.")


def _holds(problem: Problem, stint: Stint, needed: str) -> bool:
    """A barred sign-off counts as none; of a station, it must let the person work there."""
    level = current_level(problem, stint.person, needed)
    station = problem.station.get(needed)
    bars = stint.person.bars
    is_barred = any(bar.station == needed and is_in_force(problem, bar) for bar in bars)
    asked = station.level_needed if station else None
    return level is not None and level.covers(asked) and not is_barred


def minimum_age(board: Board) -> Iterator[Breach]:
    """Somebody is younger than the station allows, or of unstated age above the adult age."""
    for stint in board.stints:
        least = stint.station.min_age
        if least is None:
            continue
        # Minors are asked for their birthday, so unstated means of age, and not a year more.
        age = board.problem.club.adult_age if stint.person.age is None else stint.person.age
        if age < least:
            message = f"{stint.station.name} is for people of {least} years and over"
            known = "of unstated age" if stint.person.age is None else f"{stint.person.age}"
            yield _at("minimum_age", stint, f"{message}; {stint.person.name} is {known}.")


def presence(board: Board) -> Iterator[Breach]:
    """Somebody is placed while not in the building for the whole stretch."""
    for stint in board.stints:
        if not stint.person.is_present(stint.start, stint.end):
            when = f"{spell_minute(stint.start)} to {spell_minute(stint.end)}"
            yield _at("presence", stint, f"{stint.person.name} is not here all of {when}.")


def breaks(board: Board) -> Iterator[Breach]:
    """Somebody is placed in a block that they sit out."""
    for stint in board.stints:
        if stint.block in stint.person.breaks:
            when = spell_minute(stint.start)
            message = f"{stint.person.name} has a break in the block from {when}."
            yield _at("breaks", stint, message)


def personal_limits(board: Board) -> Iterator[Breach]:
    """Somebody works against a limit of theirs: dust, standing, heavy lifting."""
    for stint in board.stints:
        person, station = stint.person, stint.station
        if person.no_dust and (station.is_dusty or station.has_straw):
            message = f"{person.name} must stay away from dust; {station.name} is dusty."
            yield _at("personal_limits", stint, message)
        if person.seated_only and not station.can_sit:
            message = f"{person.name} works seated; {station.name} is standing work."
            yield _at("personal_limits", stint, message)
        if person.no_heavy and station.is_heavy:
            message = f"{person.name} lifts nothing heavy; {station.name} asks for it."
            yield _at("personal_limits", stint, message)


def alarm_hand(board: Board) -> Iterator[Breach]:
    """Somebody who asked for a hand when the alarm goes is alone in a room, or keeps the watch."""
    for block, stints in board.by_block.items():
        rooms = [(stint, _room_of(board, stint)) for stint in stints]
        for stint, room in rooms:
            name = stint.person.name
            if not stint.person.needs_company:
                continue
            if stint.role is Role.WATCHES:
                message = f"{name} asked for a hand when the alarm goes and keeps no fire watch."
                yield _at("alarm_hand", stint, message)
            elif not any(at == room and not each.person.needs_company for each, at in rooms):
                message = f"{name} asked for a hand when the alarm goes and is alone in {room}."
                yield Breach("alarm_hand", message, (stint.person.id,), block, stint.station.id)


def _room_of(board: Board, stint: Stint) -> str:
    """Where somebody stands: the watch in the room it looks after."""
    if stint.role is not Role.WATCHES:
        return stint.station.room
    kept = (each.room for each in board.watch
            if (each.person, each.block) == (stint.person.id, stint.block))  # fmt: skip
    return next(kept, stint.station.room)


def one_place(board: Board) -> Iterator[Breach]:
    """Somebody stands in two places at once."""
    for block, stints in board.by_block.items():
        at: dict[str, list[Stint]] = {}
        for stint in stints:
            at.setdefault(stint.person.id, []).append(stint)
        for person, several in at.items():
            if len(several) > 1:
                places = " and ".join(stint.station.name for stint in several)
                message = f"{several[0].person.name} is in two places at once: {places}."
                yield Breach("one_place", message, (person,), block, several[0].station.id)


def minor_hours(board: Board) -> Iterator[Breach]:
    """A minor works later, or longer, than the club allows."""
    club, worked = board.problem.club, dict[str, int]()
    for stint in board.stints:
        person = stint.person
        if board.problem.is_adult(person):
            continue
        if club.minor_latest is not None and stint.end > club.minor_latest:
            message = f"{person.name} is a minor and stops by {spell_minute(club.minor_latest)}."
            yield _at("minor_hours", stint, message)
        # What was worked before a re-plan counts: the body does not start anew.
        minutes = worked.get(person.id, person.minutes_worked) + stint.end - stint.start
        worked[person.id] = minutes
        if club.minor_max_minutes is not None and minutes > club.minor_max_minutes:
            message = f"{person.name} is a minor and works {club.minor_max_minutes} minutes at most"
            yield _at("minor_hours", stint, f"{message}; this makes {minutes}.")


def _at(rule: str, stint: Stint, message: str) -> Breach:
    return Breach(rule, message, (stint.person.id,), stint.block, stint.station.id)


def _said(level: Level) -> str:
    return level.value.replace("_", " ")
