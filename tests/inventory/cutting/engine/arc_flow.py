"""The least cost of a cut list as flows along sticks: no patterns, prices or totals.

Every stick length is a line of positions. An arc from ``v`` to ``v + piece + kerf`` cuts a
piece there, an arc out of ``v`` throws away or keeps what lies beyond. Whatever flows from the
start of a line to its ends is sticks cut up; SciPy's solver chooses whole numbers of arcs.

Source: J. M. Valério de Carvalho, *Exact solution of bin-packing problems using column
generation and branch-and-bound*, Annals of Operations Research 86 (1999) 629-659 (the
arc-flow formulation), *from memory*.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from inventory.cutting.engine.problem import CutProblem, Stick

Row = dict[int, float]


@dataclass
class Flows:
    """Arcs with their costs, and the rows they stand in."""

    costs: list[int] = field(default_factory=list)
    balance: dict[tuple[int, int], Row] = field(default_factory=lambda: defaultdict(dict))
    pieces: dict[int, Row] = field(default_factory=lambda: defaultdict(dict))
    starts: dict[int, Row] = field(default_factory=lambda: defaultdict(dict))

    def arc(self, cost: int) -> int:
        """A new arc's column."""
        self.costs.append(cost)
        return len(self.costs) - 1


def least_cost_by_flow(problem: CutProblem) -> int | None:
    """Least cost with exactly the pieces wanted; ``None`` when they cannot all be cut."""
    flows = Flows()
    for kind, stick in enumerate(problem.sticks):
        _lay_out(flows, problem, kind, stick)
    size = len(flows.costs)
    rows = [(row, 0, 0) for row in flows.balance.values()]
    rows += [(flows.pieces[i], p.count, p.count) for i, p in enumerate(problem.pieces)]
    rows += [
        (flows.starts[kind], 0, np.inf if stick.count is None else stick.count)
        for kind, stick in enumerate(problem.sticks)
    ]
    matrix = _matrix([row for row, _, _ in rows], size)
    limits = LinearConstraint(matrix, [low for _, low, _ in rows], [high for *_, high in rows])
    found = milp(
        flows.costs, constraints=limits, integrality=np.ones(size), bounds=Bounds(0, np.inf),
        options={"mip_rel_gap": 0},
    )  # fmt: skip
    return round(found.fun) if found.x is not None else None


def _lay_out(flows: Flows, problem: CutProblem, kind: int, stick: Stick) -> None:
    """The arcs of one stick length; positions are where the next piece may start."""
    first = 0 if stick.is_drop else problem.trim
    last = stick.length - problem.trim
    begun = flows.arc(0)
    flows.starts[kind][begun] = 1
    flows.balance[kind, first][begun] = 1
    reached, waiting = set[int](), [first]
    while waiting:
        at = waiting.pop()
        if at in reached:
            continue
        reached.add(at)
        _end(flows, problem, (kind, at), stick)
        for i, piece in enumerate(problem.pieces):
            # the piece must end inside; its kerf may run over the end
            if at + piece.length <= last:
                cut = flows.arc(0)
                flows.pieces[i][cut] = 1
                flows.balance[kind, at][cut] = -1
                to = at + piece.length + problem.kerf
                flows.balance[kind, to][cut] = 1
                waiting.append(to)


def _end(flows: Flows, problem: CutProblem, node: tuple[int, int], stick: Stick) -> None:
    """Stop cutting here: what the stick costs less what its rest is worth."""
    is_whole = node[1] == (0 if stick.is_drop else problem.trim)
    metal = stick.length * problem.keep_percent // 100 if stick.is_drop else stick.length
    cost = metal if stick.cost is None else stick.cost
    rest = max(0, stick.length - node[1])
    if not is_whole and problem.keep_length is not None and rest >= problem.keep_length:
        percent = 100 if stick.is_drop else problem.keep_percent
        cost -= cost * rest * percent // (100 * stick.length)
    # a stick that is not cut costs nothing and is of no use: its flow is never worth beginning
    flows.balance[node][flows.arc(cost)] = -1


def _matrix(rows: list[Row], columns: int) -> csr_array:
    at = [(r, c, value) for r, row in enumerate(rows) for c, value in row.items()]
    r, c, values = zip(*at, strict=True)
    return csr_array((values, (r, c)), shape=(len(rows), columns))
