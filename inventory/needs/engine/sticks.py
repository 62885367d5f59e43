"""Questions about steel: do these pieces come off the sticks we have, and how many to buy?

Asked of the cut-list engine, cheap answers first: too little metal in all is a no, a best fit by
hand that works is a yes. Only in between is the cut list solved.

A stick or drop just as long as a piece *is* that piece: it takes no cut, so no trim either. It
is set against the piece before anything is asked. That never costs an answer: whatever else
could have been cut from it fits where the piece would have been cut.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

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
            rest, to_cut = _without_whole(item, pieces)
            self.known_fits[asked] = self._fits(cut_problem(rest, to_cut, can_buy=False))
        return self.known_fits[asked]

    def to_buy(self, item: Item, pieces: dict[int, int]) -> Answer:
        """Fewest sticks to buy beside those in the rack."""
        asked = _asked(item, pieces)
        if asked not in self.known_buys:
            self.known_buys[asked] = self._to_buy(*_without_whole(item, pieces))
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

    def _to_buy(self, item: Item, pieces: dict[int, int]) -> Answer:
        whole, is_sure = 0, True
        if item.trim and item.stick_length in pieces:
            # Bought to the length of the piece: every one is a stick as it comes.
            whole = pieces[item.stick_length]
            pieces = {length: n for length, n in pieces.items() if length != item.stick_length}
            # A longer stick in the rack might have given one instead.
            is_sure = all(lot.length < item.stick_length for lot in item.sticks if lot.count)
        plan = solve(cut_problem(item, pieces, can_buy=True), self._time(), self.seed)
        return Answer(whole + plan.cost, plan.is_proven and is_sure)

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


def _without_whole(item: Item, pieces: dict[int, int]) -> tuple[Item, dict[int, int]]:
    """The rack and the pieces without those that lie there just as long as they must be."""
    left, lots = dict(pieces), []
    for lot in item.sticks:
        used = min(lot.count, left.get(lot.length, 0))
        if used:
            left[lot.length] -= used
        lots.append(replace(lot, count=lot.count - used))
    to_cut = {length: count for length, count in left.items() if count}
    return replace(item, sticks=tuple(lots)), to_cut


def _asked(item: Item, pieces: dict[int, int]) -> Asked:
    # the sticks are part of the question: there are more once an order has come
    return item.key, item.sticks, tuple(sorted(pieces.items()))
