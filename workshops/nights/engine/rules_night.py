"""Hard rules about the whole night: sparks, fire watch, straw, minors, what was fixed by hand."""

from __future__ import annotations

from collections.abc import Iterator

from workshops.nights.engine.board import Board, Breach, Stint, spell_minute, spell_names
from workshops.nights.engine.placings import Role, Watching
from workshops.nights.engine.problem import Person, Problem, Span


def last_spark(board: Board) -> Iterator[Breach]:
    """Hot work goes on after the last spark: lock-up minus the club's watch."""
    latest = board.problem.last_spark
    for stint in board.stints:
        if stint.station.is_hot and stint.end > latest:
            message = f"{stint.station.name} is hot work and ends by {spell_minute(latest)}"
            message = f"{message}, not {spell_minute(stint.end)}."
            yield Breach("last_spark", message, (stint.person.id,), stint.block, stint.station.id)


def watch_needed(problem: Problem, room: str, hot_blocks: list[int]) -> Span | None:
    """From the first sparks in the room to the end of the watch after the last; none: no watch.

    Sparks before the first block count; the stretch before it is over and is left out.
    """
    if not problem.blocks:
        return None
    minutes = problem.club.watch_minutes
    starts = [problem.blocks[block].start for block in hot_blocks]
    ends = [problem.blocks[block].end + minutes for block in hot_blocks]
    if room in problem.before.sparks:
        starts.append(problem.blocks[0].start)
        ends.append(problem.before.sparks[room] + minutes)
    # Sparks long before the first block can be out, and watched to their end, by now.
    if not ends or max(ends) <= min(starts):
        return None
    return Span(min(starts), max(ends))


def fire_watch(board: Board) -> Iterator[Breach]:
    """Sparks without a fire watch in the room from the first of them to the end of the watch."""
    for room in board.hot_rooms:
        needed = watch_needed(board.problem, room, board.hot_blocks(room))
        if needed is None:
            continue
        for gap in _unwatched(board, room, needed):
            times = f"{spell_minute(gap.start)} to {spell_minute(gap.end)}"
            message = f"Nobody keeps the fire watch in {room} from {times}."
            yield Breach("fire_watch", message, (), _block_at(board.problem, gap.start))


def _unwatched(board: Board, room: str, needed: Span) -> Iterator[Span]:
    """Stretches of the span that no watch of the room covers."""
    reached = needed.start
    for each in sorted(_watches_of(board, room), key=lambda each: each.start):
        if each.start > reached:
            # A watch that begins too late must not lengthen the gap past the end of the duty.
            yield Span(reached, min(each.start, needed.end))
        # Not simply its end: an earlier watch may last longer than this one.
        reached = max(reached, each.end)
        if reached >= needed.end:
            return
    yield Span(reached, needed.end)


def _watches_of(board: Board, room: str) -> list[Watching]:
    if board.problem.watch_station is None:
        return []
    return [each for each in board.watch if each.room == room]


def _block_at(problem: Problem, minute: int) -> int:
    started = [block for block, span in enumerate(problem.blocks) if span.start <= minute]
    return max(started, default=0)


def fire_watch_only(board: Board) -> Iterator[Breach]:
    """Whoever keeps the fire watch does something else, or is a minor."""
    for each in board.watch:
        person = board.problem.person[each.person]
        if not board.problem.is_adult(person):
            message = f"{person.name} is a minor and keeps no fire watch."
            yield Breach("fire_watch_only", message, (person.id,), each.block)
        # The watch itself is a stint of that block, so the block is there.
        for stint in board.by_block[each.block] if board.problem.watch_station else ():
            if stint.person is person and stint.role is not Role.WATCHES:
                message = f"{person.name} keeps the fire watch and can do nothing else"
                message = f"{message}, not {stint.station.name}."
                yield Breach("fire_watch_only", message, (person.id,), each.block, stint.station.id)


def hot_and_straw(board: Board) -> Iterator[Breach]:
    """Sparks and straw share a room in one night."""
    # All night and not block by block: straw dust stays when the straw is carried out.
    straw = {stint.station.room for stint in board.stints if stint.station.has_straw}
    for room in board.hot_rooms:
        if room in straw | set(board.problem.before.straw_rooms):
            users = {stint.station.name for stint in board.stints if _is_either(stint, room)}
            also = f" ({spell_names(sorted(users))})" if users else ""
            message = f"Hot work and straw cannot share {room} in one night{also}."
            yield Breach("hot_and_straw", message)


def _is_either(stint: Stint, room: str) -> bool:
    station = stint.station
    return station.room == room and (station.is_hot or station.has_straw)


def supervision(board: Board) -> Iterator[Breach]:
    """Minors at work with too few adults free to look after them, or without their guardian."""
    club = board.problem.club
    for block, stints in board.by_block.items():
        minors = [stint.person for stint in stints if not board.problem.is_adult(stint.person)]
        free = free_adults(board, block)
        most = club.minors_per_adult
        # Without a number from the club one free adult is still the least.
        if minors and (not free or (most is not None and len(minors) > most * len(free))):
            message = f"{spell_names(each.name for each in minors)}: {len(minors)} minors and"
            message = f"{message} {len(free)} adults free to look after them"
            rule = "at least one" if most is None else f"one for {most}"
            ids = tuple(each.id for each in minors)
            yield Breach("supervision", f"{message}; the club asks for {rule}.", ids, block)
        for minor in minors if club.guardian_required else ():
            if not {each.id for each in free} & set(minor.guardians):
                message = f"No guardian of {minor.name} is free to look after them."
                yield Breach("supervision", message, (minor.id,), block)


def free_adults(board: Board, block: int) -> list[Person]:
    """Adults in the building, not sitting out, not behind a hood and not on the fire watch."""
    span = board.problem.blocks[block]
    busy = {
        stint.person.id
        for stint in board.by_block.get(block, [])
        if stint.station.is_hooded or stint.role is Role.WATCHES
    }
    return [
        person
        for person in board.problem.people
        if board.problem.is_adult(person)
        and person.is_present(span.start, span.end)
        and block not in person.breaks
        and person.id not in busy
    ]


def locks_kept(board: Board) -> Iterator[Breach]:
    """A placing fixed by hand is not in the plan."""
    roles = {(each.person.id, each.block, each.station.id): each.role for each in board.stints}
    for lock in board.problem.locks:
        station = board.problem.station[lock.station]
        role = roles.get((lock.person, lock.block, lock.station))
        same = lock.role is None or (role and role.is_learning == lock.role.is_learning)
        if role is None or not same:
            name = board.problem.person[lock.person].name
            message = f"{name} was fixed at {station.name} and is not there."
            yield Breach("locks_kept", message, (lock.person,), lock.block, lock.station)
