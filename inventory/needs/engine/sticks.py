"""Questions about steel: do these pieces come off the sticks we have, and how many to buy?

Asked of the cut-list engine, cheap answers first: too little metal in all is a no, a best fit by
hand that works is a yes. Only in between is the cut list solved.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from inventory.cutting.engine.baseline import best_fit_decreasing
from inventory.cutting.engine.model import reduce
from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.engine.search import Clock
from inventory.cutting.engine.solve import solve
from inventory.engines.stop import Seconds
from inventory.needs.engine.params import NeedsParams
from inventory.needs.engine.problem import Item, Lot

Asked = tuple[str, tuple[Lot, ...], tuple[tuple[int, int], ...]]


@dataclass(frozen=True, slots=True)
class Answer:
    """Sticks to buy (0: what is there suffices) and whether fewer are proven not to do."""

    sticks: int
    is_exact: bool


@dataclass
class Steel:
    """Answers about sticks; each question is worked out once."""

    clock: Clock
    params: NeedsParams
    seed: int
    known_fits: dict[Asked, Answer] = field(default_factory=dict)
    known_buys: dict[Asked, Answer] = field(default_factory=dict)

    def fits(self, item: Item, pieces: dict[int, int]) -> Answer:
        """``sticks`` is 0 when the pieces come off the sticks in the rack, else 1."""
        asked = _asked(item, pieces)
        if asked not in self.known_fits:
            self.known_fits[asked] = self._fits(cut_problem(item, pieces, can_buy=False))
        return self.known_fits[asked]

    def to_buy(self, item: Item, pieces: dict[int, int]) -> Answer:
        """Fewest sticks to buy beside those in the rack."""
        asked = _asked(item, pieces)
        if asked not in self.known_buys:
            plan = solve(cut_problem(item, pieces, can_buy=True), self._time(), self.seed)
            self.known_buys[asked] = Answer(plan.cost, plan.is_proven)
        return self.known_buys[asked]

    def _fits(self, problem: CutProblem) -> Answer:
        wanted = sum((piece.length + problem.kerf) * piece.count for piece in problem.pieces)
        there = sum(problem.room(stick) * (stick.count or 0) for stick in problem.sticks)
        # no way of cutting makes metal
        if wanted > there:
            return Answer(1, is_exact=True)
        figures = reduce(problem)
        is_whole = sum(figures.demand) == sum(piece.count for piece in problem.pieces)
        if is_whole and not any(figures.left_out(best_fit_decreasing(figures))):
            return Answer(0, is_exact=True)
        plan = solve(problem, self._time(), self.seed)
        if plan.is_complete:
            return Answer(0, is_exact=True)
        # not found in the time is a no; it is a sure one when some metal must stay missing
        return Answer(1, is_exact=plan.least_missing > 0)

    def _time(self) -> Seconds:
        return Seconds(max(0.01, min(self.params.cut_seconds, self.clock.left())))


def cut_problem(item: Item, pieces: dict[int, int], *, can_buy: bool) -> CutProblem:
    """The cut list behind a question: sticks in the rack cost nothing, a bought one costs 1."""
    wanted = tuple(Piece(f"{length}", length, count) for length, count in sorted(pieces.items()))
    sticks = [
        Stick(f"rack {k}", lot.length, lot.count, 0, lot.is_drop)
        for k, lot in enumerate(item.sticks)
    ]
    # a bought stick costs one and the others nothing, so the cost is the number to buy
    if can_buy and item.stick_length is not None:
        sticks.append(Stick("bought", item.stick_length, None, 1))
    return CutProblem(wanted, tuple(sticks), item.kerf, item.trim, material=item.key)


def _asked(item: Item, pieces: dict[int, int]) -> Asked:
    # the sticks are part of the question: there are more once an order has come
    return item.key, item.sticks, tuple(sorted(pieces.items()))
