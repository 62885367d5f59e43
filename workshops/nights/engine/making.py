"""What hands turn racks and materials into: the part that plans and fixed placings share."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

import numpy as np

from inventory.engines.milp import Programme
from inventory.engines.stop import Seconds
from workshops.nights.engine.output import Output
from workshops.nights.engine.placings import Placing, Role
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.stations import Operation, Piece

Slot = tuple[int, str]
# (block, station, least rank of level) -> minutes at pace 1.0: terms by column, and a constant
Hands = Callable[[int, str, int], tuple[dict[int, float], float]]


@dataclass
class Making:
    """Columns of a programme that say what is made."""

    problem: Problem
    programme: Programme
    runs: dict[Slot, int] = field(default_factory=dict)  # block, operation
    racks: dict[Slot, int] = field(default_factory=dict)  # block, piece: at its end
    sets: dict[str, int] = field(default_factory=dict)

    def runs_in(self, block: int) -> list[tuple[Operation, int]]:
        """(operation, column) of everything that can be made in the block."""
        return [
            (operation, self.runs[block, operation.id])
            for operation in self.problem.operations
            if (block, operation.id) in self.runs
        ]


def make(problem: Problem, programme: Programme, stations: Iterable[Slot], hands: Hands) -> Making:
    """Add making at the given stations to a programme; its objective is the worth of the racks.

    Parameters
    ----------
    stations
        (block, station) where somebody could be.
    hands
        Minutes of work there of those who hold a level.

    Notes
    -----
    What is used in a block stood on its rack when the block began; a rack never holds more
    than its limit at the end of a block. An operation that asks a higher level than its
    station gets the hands of that level only: one row for each level asked.
    """
    making = Making(problem, programme)
    for block, station in stations:
        runs: list[tuple[Operation, int]] = []
        for operation in problem.operations:
            if operation.station == station:
                making.runs[block, operation.id] = programme.column()
                runs.append((operation, making.runs[block, operation.id]))
        _fit_hands(making, block, runs, hands)
    for piece in problem.pieces:
        _fit_rack(making, piece)
    _fit_materials(making)
    _count_worth(making)
    return making


def _rank(operation: Operation) -> int:
    return operation.level_needed.rank if operation.level_needed else -1


def _fit_hands(making: Making, block: int, runs: list[tuple[Operation, int]], hands: Hands) -> None:
    for rank in sorted({_rank(operation) for operation, _ in runs}):
        terms, minutes = hands(block, runs[0][0].station, rank)
        row = {column: each.minutes for each, column in runs if _rank(each) >= rank}
        row.update({column: -pace for column, pace in terms.items()})
        making.programme.row(row, upper=minutes)


def _fit_rack(making: Making, piece: Piece) -> None:
    # A rack already over its limit is a fact, not a reason to have no plan.
    limit = float("inf") if piece.rack_limit is None else max(piece.rack_limit, piece.on_rack)
    before: int | None = None
    for block in range(len(making.problem.blocks)):
        rack = making.programme.column(upper=limit)
        row: dict[int, float] = {rack: 1.0}
        used: dict[int, float] = {}
        for operation, column in making.runs_in(block):
            if operation.makes == piece.id:
                row[column] = -float(operation.makes_count)
            # One or the other: an operation that uses what it makes is refused at birth.
            if piece.id in operation.uses:
                row[column] = used[column] = float(operation.uses[piece.id])
        start = piece.on_rack if before is None else 0
        last = {} if before is None else {before: -1.0}
        making.programme.row({**row, **last}, lower=start, upper=start)
        if used:
            # The lag: what is made in a block can be used from the next on.
            making.programme.row({**used, **last}, upper=start)
        making.racks[block, piece.id] = before = rack


def _fit_materials(making: Making) -> None:
    for material in making.problem.materials:
        row = {
            column: float(operation.materials[material.id])
            for block in range(len(making.problem.blocks))
            for operation, column in making.runs_in(block)
            if material.id in operation.materials
        }
        if row:
            making.programme.row(row, upper=material.on_hand)


def _count_worth(making: Making) -> None:
    """Complete sets first: a set is worth more than its parts lying loose."""
    last = len(making.problem.blocks) - 1
    if last < 0:
        return
    for piece in making.problem.pieces:
        # Only the last rack is worth anything, or standing there longer would earn twice.
        making.programme.cost[making.racks[last, piece.id]] += piece.worth
    making.sets = _set_columns(making.problem, making.programme)
    for piece in making.problem.pieces:
        row = _taken(making.problem, making.sets, piece)
        if row:
            making.programme.row({**row, making.racks[last, piece.id]: -1.0}, upper=0)


def _set_columns(problem: Problem, programme: Programme) -> dict[str, int]:
    worth = {piece.id: piece.worth for piece in problem.pieces}
    columns = {}
    for kind in problem.sets:
        loose = sum(worth[piece] * count for piece, count in kind.parts.items())
        upper = float("inf") if kind.wanted is None else kind.wanted
        # The parts are paid for as they stand on the rack; the set adds what is over.
        columns[kind.id] = programme.column(kind.worth - loose, upper=upper)
    return columns


def _taken(problem: Problem, sets: dict[str, int], piece: Piece) -> dict[int, float]:
    kinds = [kind for kind in problem.sets if piece.id in kind.parts]
    return {sets[kind.id]: float(kind.parts[piece.id]) for kind in kinds}


def standing(problem: Problem) -> tuple[float, dict[str, float]]:
    """Worth of what stands on the racks at the start, and the complete sets among it."""
    programme = Programme(maximise=True)
    columns = _set_columns(problem, programme)
    for piece in problem.pieces:
        row = _taken(problem, columns, piece)
        if row:
            programme.row(row, upper=piece.on_rack)
    loose = sum(piece.worth * piece.on_rack for piece in problem.pieces)
    if not columns:
        return loose, {}
    solution = programme.solve(Seconds(10))
    sets = {kind: float(solution.values[column]) for kind, column in columns.items()}
    return loose + solution.objective, sets


def expected_output(problem: Problem, placings: Iterable[Placing]) -> Output:
    """What these placings are expected to make, whoever chose them.

    Raises
    ------
    ValueError
        When a placing names a person or block that the night does not have.
    """
    crews: dict[Slot, list[Placing]] = {}
    for placing in placings:
        if placing.person not in problem.person or not 0 <= placing.block < len(problem.blocks):
            raise ValueError(f"no person {placing.person!r} or no block {placing.block} tonight")
        crews.setdefault((placing.block, placing.station), []).append(placing)

    def hands(block: int, station: str, rank: int) -> tuple[dict[int, float], float]:
        paces = (_pace(problem, placing, rank) for placing in crews[block, station])
        return {}, problem.blocks[block].minutes * sum(paces)

    programme = Programme(maximise=True)
    worth_before, sets_before = standing(problem)
    making = make(problem, programme, sorted(crews), hands)
    # HiGHS refuses a programme without a column.
    if not programme.cost:
        return Output(sets=sets_before, sets_before=sets_before)
    solution = programme.solve(Seconds(10))
    return _output(making, solution.values, sets_before, solution.objective - worth_before)


def _pace(problem: Problem, placing: Placing, rank: int) -> float:
    """Pace of one person at their place on work that asks the level; 0 below it."""
    person = problem.person[placing.person]
    line = person.sign_off(placing.station)
    is_current = line and (line.valid_until is None or line.valid_until >= problem.date)
    held = line.level.rank if line and is_current else -1
    pace = person.rate(placing.station) if held >= rank else 0.0
    return pace * problem.club.learner_rate if placing.role is Role.LEARNS else pace


def _output(making: Making, values: np.ndarray, before: dict[str, float], worth: float) -> Output:
    blocks = range(len(making.problem.blocks))

    def value(column: int | None) -> float:
        return 0.0 if column is None else _clean(float(values[column]))

    return Output(
        made={
            each.id: tuple(value(making.runs.get((block, each.id))) for block in blocks)
            for each in making.problem.operations
        },
        racks={each.id: value(making.racks[blocks[-1], each.id]) for each in making.problem.pieces},
        sets={kind: value(column) for kind, column in making.sets.items()},
        sets_before=before,
        worth=_clean(worth),
    )


def _clean(value: float) -> float:
    """Free of the solver's last digits, so that 2.9999999 is 3."""
    # Adding nothing turns -0.0 into 0.0.
    return round(value, 6) + 0.0
