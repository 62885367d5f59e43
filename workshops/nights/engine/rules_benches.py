"""Hard rules about a bench, a station, a block: crews, learners, buddies, tools, the floor."""

from __future__ import annotations

from collections.abc import Iterator

from workshops.nights.engine.board import Board, Breach, current_level, spell_names
from workshops.nights.engine.people import Level
from workshops.nights.engine.placings import Placing, Role
from workshops.nights.engine.problem import Problem

ALMOST_NONE = 1e-6  # expected runs below this are rounding of the solver


def crew_minimum(board: Board) -> Iterator[Breach]:
    """An open bench has fewer people than it needs."""
    for (block, station_id, _), crew in board.by_bench.items():
        station = board.problem.station[station_id]
        if len(crew) < station.crew_min:
            message = f"{station.name} needs {station.crew_min} people at a bench, not {len(crew)}."
            yield Breach("crew_minimum", message, _ids(crew), block, station_id)


def crew_maximum(board: Board) -> Iterator[Breach]:
    """A bench has more people than it holds."""
    for (block, station_id, _), crew in board.by_bench.items():
        station = board.problem.station[station_id]
        if len(crew) > station.crew_max:
            message = f"{station.name} holds {station.crew_max} people at a bench, not {len(crew)}."
            yield Breach("crew_maximum", message, _ids(crew), block, station_id)


def benches(board: Board) -> Iterator[Breach]:
    """More benches are open than the station has."""
    for (block, station_id), count in board.open_benches.items():
        station = board.problem.station[station_id]
        numbers = [bench for at, name, bench in board.by_bench if (at, name) == (block, station_id)]
        # A bench numbered 3 of two is wrong even while only one is open.
        if count > station.benches or not all(1 <= each <= station.benches for each in numbers):
            message = (
                f"{station.name} has {station.benches} benches, none with number {max(numbers)}."
            )
            yield Breach("benches", message, (), block, station_id)


def learner_beside_lead(board: Board) -> Iterator[Breach]:
    """A learner works at a bench where nobody may lead."""
    for (block, station_id, _), crew in board.by_bench.items():
        learners = [placing for placing in crew if placing.role is Role.LEARNS]
        if learners and not _leads(board.problem, crew):
            names = spell_names(board.problem.person[each.person].name for each in learners)
            station = board.problem.station[station_id].name
            message = f"Nobody beside {names} may lead at {station}."
            yield Breach("learner_beside_lead", message, _ids(learners), block, station_id)


def learner_ratio(board: Board) -> Iterator[Breach]:
    """More learners at a bench than its leads may have."""
    for (block, station_id, _), crew in board.by_bench.items():
        station = board.problem.station[station_id]
        learners = [placing for placing in crew if placing.role is Role.LEARNS]
        leads, ratio = _leads(board.problem, crew), board.problem.learner_ratio(station)
        if leads and len(learners) > ratio * len(leads):
            message = f"{station.name}: a lead may have {ratio} learners at a bench"
            message = f"{message}; {len(leads)} cannot have {len(learners)}."
            yield Breach("learner_ratio", message, _ids(learners), block, station_id)


def _leads(problem: Problem, crew: list[Placing]) -> list[Placing]:
    # Somebody who could lead but came to learn another way of working leads nobody.
    return [each for each in crew if each.role is not Role.LEARNS and _may_lead(problem, each)]


def _may_lead(problem: Problem, placing: Placing) -> bool:
    level = current_level(problem, problem.person[placing.person], placing.station)
    return level is not None and level.covers(Level.MAY_LEAD)


def buddy(board: Board) -> Iterator[Breach]:
    """Somebody works without the buddy the station asks for; behind a hood nobody is one."""
    for (block, station_id, _), crew in board.by_bench.items():
        station = board.problem.station[station_id]
        if not station.needs_buddy:
            continue
        # Two welders side by side see each other no better than one sees himself.
        if station.is_hooded and not _has_open_eyes(board, block, station.room):
            message = f"{station.name}: no adult in {station.room} is without a hood to be a buddy."
            yield Breach("buddy", message, _ids(crew), block, station_id)
        if not station.is_hooded and len(crew) < 2:
            message = f"{station.name} is work for two; {_name(board, crew[0])} is alone there."
            yield Breach("buddy", message, _ids(crew), block, station_id)


def _has_open_eyes(board: Board, block: int, room: str) -> bool:
    """An adult without a hood at a station in the room, or its fire watch."""
    stations, people = board.problem.station, board.problem.person
    beside = [
        placing.person
        for placing in board.placings
        if placing.block == block
        and stations[placing.station].room == room
        and not stations[placing.station].is_hooded
    ]
    watch = [each.person for each in board.watch if (each.block, each.room) == (block, room)]
    return any(board.problem.is_adult(people[person]) for person in (*beside, *watch))


def tool_count(board: Board) -> Iterator[Breach]:
    """More tools are in use in a block than the shop owns."""
    for block, tool_id, needed, users in _tools_in_use(board):
        tool = next(each for each in board.problem.tools if each.id == tool_id)
        if needed > tool.count:
            message = f"{spell_names(users)} together need {needed} of {tool.name}"
            yield Breach("tool_count", f"{message}; the shop has {tool.count}.", (), block)


def out_of_service(board: Board) -> Iterator[Breach]:
    """A closed station is in use, or more tools than are in working order."""
    for block, tool_id, needed, users in _tools_in_use(board):
        tool = next(each for each in board.problem.tools if each.id == tool_id)
        usable = tool.count - tool.out_of_service
        # Above the count it is the other rule's breach; one fault is told once.
        if usable < needed <= tool.count:
            message = f"{tool.out_of_service} of {tool.count} {tool.name} out of service"
            message = f"{message}; {spell_names(users)} need {needed}."
            yield Breach("out_of_service", message, (), block)
    for (block, station_id), _ in board.open_benches.items():
        station = board.problem.station[station_id]
        if station.closed_because:
            message = f"{station.name} is closed: {station.closed_because.rstrip('.')}."
            yield Breach("out_of_service", message, (), block, station_id)


def _tools_in_use(board: Board) -> Iterator[tuple[int, str, int, list[str]]]:
    """(block, tool, how many are needed, names of the stations that need them)."""
    for block in range(len(board.problem.blocks)):
        needed: dict[str, int] = {}
        users: dict[str, list[str]] = {}
        for (at, station_id), count in board.open_benches.items():
            station = board.problem.station[station_id]
            for tool, each in station.tools.items() if at == block else ():
                needed[tool] = needed.get(tool, 0) + each * count
                users.setdefault(tool, []).append(station.name)
        for tool, total in needed.items():
            yield block, tool, total, users[tool]


def floor_places(board: Board) -> Iterator[Breach]:
    """More people are on the floor than it holds."""
    most = board.problem.floor_places
    for block, stints in board.by_block.items() if most is not None else ():
        # Watchers stand on the floor like everybody else.
        on_floor = [stint.person.id for stint in stints if not stint.station.is_off_floor]
        if most is not None and len(on_floor) > most:
            message = f"The floor holds {most} people, not {len(on_floor)}."
            yield Breach("floor_places", message, tuple(on_floor), block)


def operation_level(board: Board) -> Iterator[Breach]:
    """Pieces are counted on that nobody at the station is signed off to make."""
    for operation in board.problem.operations:
        needed, station = operation.level_needed, operation.station
        for block, runs in enumerate(board.made.get(operation.id, ()) if needed else ()):
            # One who holds the level is enough here: how many hands the level has bounds the
            # output.
            if runs > ALMOST_NONE and not _is_covered(board, block, station, needed):
                message = f"Nobody placed then is signed off for {operation.name}."
                yield Breach("operation_level", message, (), block, station)


def _is_covered(board: Board, block: int, station: str, level: Level | None) -> bool:
    for placing in board.placings:
        if (placing.block, placing.station) == (block, station):
            person = board.problem.person[placing.person]
            held = current_level(board.problem, person, station)
            if held is not None and held.covers(level):
                return True
    return False


def _name(board: Board, placing: Placing) -> str:
    return board.problem.person[placing.person].name


def _ids(crew: list[Placing]) -> tuple[str, ...]:
    return tuple(placing.person for placing in crew)
