"""One door to HiGHS: columns, rows, solve; every status looked at, one thread count for all.

HiGHS keeps one pool of threads for the process: mixing thread counts makes later runs
return at once without a solution. So every programme of this project runs on one thread.
"""

from __future__ import annotations

import math
import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

import highspy
import numpy as np

from inventory.engines.stop import Seconds

Row = Mapping[int, float]


class Status(Enum):
    """What a solve came back with."""

    BEST = "best"  # proven within the gap asked for
    FEASIBLE = "feasible"  # a solution, stopped before the proof
    INFEASIBLE = "infeasible"  # no solution exists
    UNKNOWN = "unknown"  # stopped before a first solution
    UNBOUNDED = "unbounded"


@dataclass(frozen=True, slots=True)
class Solution:
    """Values of the columns (empty when there is none), objective, proven bound, duals."""

    status: Status
    objective: float
    bound: float
    values: np.ndarray
    row_duals: np.ndarray
    seconds: float

    def has_values(self) -> bool:
        """Whether there is a feasible point to read."""
        return self.status in (Status.BEST, Status.FEASIBLE)


@dataclass(slots=True)
class Programme:
    """A linear or integer programme under construction. ``maximise`` sets the direction."""

    maximise: bool = False
    offset: float = 0.0  # added to the objective, so that a relative gap is of what counts
    cost: list[float] = field(default_factory=list)
    lower: list[float] = field(default_factory=list)
    upper: list[float] = field(default_factory=list)
    is_integer: list[bool] = field(default_factory=list)
    row_lower: list[float] = field(default_factory=list)
    row_upper: list[float] = field(default_factory=list)
    starts: list[int] = field(default_factory=lambda: [0])
    indices: list[int] = field(default_factory=list)
    coefficients: list[float] = field(default_factory=list)

    def column(
        self,
        cost: float = 0.0,
        *,
        lower: float = 0.0,
        upper: float = math.inf,
        integer: bool = False,
    ) -> int:
        """Add a column and give its index."""
        self.cost.append(cost)
        self.lower.append(lower)
        self.upper.append(upper)
        self.is_integer.append(integer)
        return len(self.cost) - 1

    def binary(self, cost: float = 0.0, *, upper: float = 1.0) -> int:
        """Add a yes-or-no column and give its index."""
        return self.column(cost, upper=upper, integer=True)

    def row(self, terms: Row, *, lower: float = -math.inf, upper: float = math.inf) -> int:
        """Add ``lower <= sum(coefficient * column) <= upper`` and give its index.

        A mapping, so that no column can stand twice: HiGHS would drop the whole model.
        """
        self.row_lower.append(lower)
        self.row_upper.append(upper)
        self.indices.extend(terms.keys())
        self.coefficients.extend(terms.values())
        self.starts.append(len(self.indices))
        return len(self.row_lower) - 1

    def relaxed(self, stop: Seconds) -> Solution:
        """Solve as if every column could be a fraction: fast, and a bound on the best."""
        # Put back whatever happens: the caller goes on to solve the same programme whole.
        kept, self.is_integer = self.is_integer, [False] * len(self.is_integer)
        try:
            return self.solve(stop)
        finally:
            self.is_integer = kept

    def solve(
        self, stop: Seconds, *, gap: float = 0.0, seed: int = 0, keeps_few_cuts: bool = False
    ) -> Solution:
        """Solve within the time; ``gap`` is relative. Needs at least one column.

        ``keeps_few_cuts`` forgets cutting planes early: half the time where many
        fractional people share few benches, no gain elsewhere.

        Raises
        ------
        RuntimeError
            When HiGHS refuses the model: a fault of the caller, never of the data.
        """
        solver = _quiet_solver()
        _set_options(solver, stop=stop, gap=gap, seed=seed)
        if keeps_few_cuts:
            solver.setOptionValue("mip_lp_age_limit", 3)
            solver.setOptionValue("mip_pool_soft_limit", 200)
        # A warning is let pass: HiGHS warns of tiny coefficients, which it drops harmlessly.
        if solver.passModel(self._lp()) == highspy.HighsStatus.kError:
            raise RuntimeError("HiGHS refused the programme")
        solver.run()
        return _read(solver, is_mip=any(self.is_integer))

    def _lp(self) -> highspy.HighsLp:
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(self.cost), len(self.row_lower)
        lp.sense_ = highspy.ObjSense.kMaximize if self.maximise else highspy.ObjSense.kMinimize
        lp.offset_ = self.offset
        lp.col_cost_ = np.array(self.cost, dtype=float)
        lp.col_lower_, lp.col_upper_ = np.array(self.lower), np.array(self.upper)
        lp.row_lower_ = np.array(self.row_lower, dtype=float)
        lp.row_upper_ = np.array(self.row_upper, dtype=float)
        # Rows are added one by one, so the matrix is kept row by row.
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_ = np.array(self.starts, dtype=np.int32)
        lp.a_matrix_.index_ = np.array(self.indices, dtype=np.int32)
        lp.a_matrix_.value_ = np.array(self.coefficients, dtype=float)
        if any(self.is_integer):
            kinds = highspy.HighsVarType
            lp.integrality_ = [kinds.kInteger if i else kinds.kContinuous for i in self.is_integer]
        return lp


def _quiet_solver() -> highspy.Highs:
    """A solver made with the process's standard output turned away.

    The first one in a process greets on file descriptor 1, whatever its options say, and
    would stand in front of the JSON that ``manage.py solve`` prints.
    """
    # What Python still holds back would be lost if it were written meanwhile.
    sys.stdout.flush()
    kept, nowhere = os.dup(1), os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        return highspy.Highs()  # type: ignore[no-untyped-call]
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)


def _set_options(solver: highspy.Highs, *, stop: Seconds, gap: float, seed: int) -> None:
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("parallel", "off")
    solver.setOptionValue("random_seed", seed)
    solver.setOptionValue("mip_rel_gap", gap)
    # HiGHS reads no infinity here; its own default is no limit.
    if math.isfinite(stop.seconds):
        solver.setOptionValue("time_limit", stop.seconds)


def _read(solver: highspy.Highs, *, is_mip: bool) -> Solution:
    info, found = solver.getInfo(), solver.getModelStatus()
    statuses = highspy.HighsModelStatus
    has_point = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    status = {
        statuses.kOptimal: Status.BEST,
        statuses.kInfeasible: Status.INFEASIBLE,
        statuses.kUnbounded: Status.UNBOUNDED,
        # Presolve does not say which of the two; no rack and no night gives without end.
        statuses.kUnboundedOrInfeasible: Status.INFEASIBLE,
    }.get(found, Status.FEASIBLE if has_point else Status.UNKNOWN)
    has_values = status in (Status.BEST, Status.FEASIBLE)
    solution = solver.getSolution()
    # Without whole numbers there is nothing between the optimum and its bound.
    bound = info.mip_dual_bound if is_mip else info.objective_function_value
    return Solution(
        status=status,
        objective=info.objective_function_value if has_values else math.nan,
        bound=bound if has_values or is_mip else math.nan,
        values=np.array(solution.col_value) if has_values else np.empty(0),
        row_duals=np.array(solution.row_dual) if has_values and not is_mip else np.empty(0),
        seconds=solver.getRunTime(),
    )
