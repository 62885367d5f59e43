"""The cut list a careful person makes by hand: best fit, longest piece first; or set by set.

The first starts the search and is what no plan may be worse than; the second is what mixed
patterns are compared with.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from dataclasses import replace
from fractions import Fraction
from math import gcd

from inventory.cutting.engine.model import Figures, Taken, made_by, reduce
from inventory.cutting.engine.patterns import Pattern
from inventory.cutting.engine.plan import ByHand
from inventory.cutting.engine.problem import CutProblem, Piece, Stick


def best_fit_decreasing(figures: Figures) -> Taken:
    """The longest piece first, each into the opened stick with the least room left that fits.

    Which stick is opened next is a habit, so several are tried: with and without the drops,
    and each kind of stick as the favourite. The one with least missing, then least cost, wins.

    Source: D. S. Johnson et al., *Worst-case performance bounds for simple one-dimensional
    packing algorithms*, SIAM J. Comput. 3 (1974) 299-325 (best-fit decreasing).
    """
    plans = [_fill(figures, habit) for habit in _habits(figures)]
    return min(plans, key=lambda plan: _badness(figures, plan), default={})


def _badness(figures: Figures, taken: Taken) -> tuple[int, int]:
    return figures.taken(figures.left_out(taken)), figures.total(taken)


def _habits(figures: Figures) -> list[list[int]]:
    """Orders in which kinds of stick are opened; a kind left out is never opened."""
    by_length = sorted(range(len(figures.sticks)), key=lambda j: figures.rooms[j])
    drops = [j for j in by_length if figures.sticks[j].is_drop]
    others = [j for j in reversed(by_length) if not figures.sticks[j].is_drop]
    # a favourite that runs out gives way to the next, longest first
    favourites = [[j, *(other for other in others if other != j)] for j in others] or [[]]
    habits = [[*drops, *order] for order in favourites]
    if drops:
        habits += [[*order, *drops] for order in favourites]
    return habits


def _fill(figures: Figures, habit: list[int]) -> Taken:
    left = [stick.count for stick in figures.sticks]
    opened: list[tuple[int, int]] = []  # (room left, number of the opened stick), sorted
    cuts: list[tuple[int, list[int]]] = []  # (kind, counts) of each opened stick
    for i, (size, count) in enumerate(zip(figures.sizes, figures.demand, strict=True)):
        for _ in range(count):
            # opened is sorted by room left: the first that fits is the tightest that fits
            at = bisect_left(opened, (size, -1))
            if at == len(opened):
                kind = next((j for j in habit if left[j] != 0 and figures.rooms[j] >= size), None)
                if kind is None:
                    break  # shorter pieces may still fit, so only this size ends
                number = left[kind]
                left[kind] = None if number is None else number - 1
                cuts.append((kind, [0] * len(figures.sizes)))
                room, stick = figures.rooms[kind], len(cuts) - 1
            else:
                room, stick = opened.pop(at)
            cuts[stick][1][i] += 1
            insort(opened, (room - size, stick))
    return _counted(cuts)


def _counted(cuts: list[tuple[int, list[int]]]) -> Taken:
    taken: Taken = {}
    for kind, counts in cuts:
        pattern = Pattern(kind, tuple(counts))
        taken[pattern] = taken.get(pattern, 0) + 1
    return taken


def cut_set_by_set(problem: CutProblem) -> ByHand | None:
    """What it takes to cut whole sets off each stick and start the next set on a new one.

    One kind of stick is cut first and the others when it runs out, in the order that does it
    for least. A set that fits no stick gets its own sticks, best fit; so do the pieces beyond
    whole sets. ``None`` when the pieces form no sets: ``per_set`` is not given for each of
    them and the counts have no common divisor; or when the sticks do not suffice.
    """
    per_set = _per_set(problem)
    sets = min(
        (p.count // per_set[p.label] for p in problem.pieces if p.label in per_set), default=0
    )
    if not sets:
        return None
    rest = {p.label: p.count - sets * per_set[p.label] for p in problem.pieces if p.count}
    found = []
    for order in _orders(problem, per_set):
        hand = _Hand(problem)
        hand.whole_sets(order, per_set, sets)
        # racks rarely hold parts in whole sets: what is left of them is cut by itself
        if hand.is_able and hand.best_fit(rest):
            found.append(hand.told())
    # a person cutting by hand would at least pick the right stick for it
    return min(found, key=lambda by_hand: by_hand.cost, default=None)


def _per_set(problem: CutProblem) -> dict[str, int]:
    wanted = [piece for piece in problem.pieces if piece.count]
    if all(piece.per_set for piece in wanted):
        return {piece.label: piece.per_set for piece in wanted}
    # 300 of one and 600 of another are 300 sets of one and two
    sets = gcd(*(piece.count for piece in wanted))
    return {piece.label: piece.count // sets for piece in wanted} if sets > 1 else {}


def _orders(problem: CutProblem, per_set: dict[str, int]) -> list[list[Stick]]:
    """Sticks that a whole set fits on, each as the favourite, the others by what a set costs."""
    size = _size(problem, per_set)
    fitting = [stick for stick in problem.sticks if problem.room(stick) >= size]
    by_cost = sorted(
        fitting,
        key=lambda stick: Fraction(problem.cost_of(stick), problem.room(stick) // size),
    )
    favourites = [[one, *(other for other in by_cost if other != one)] for one in by_cost]
    return favourites or [[]]


def _size(problem: CutProblem, counts: dict[str, int]) -> int:
    return sum((p.length + problem.kerf) * counts.get(p.label, 0) for p in problem.pieces)


class _Hand:
    """Somebody at the saw without a list: what is left of the sticks, what was taken."""

    def __init__(self, problem: CutProblem) -> None:
        self.problem = problem
        self.left = {stick: stick.count for stick in problem.sticks}
        self.sticks = self.metal = self.cost = self.sets_per_stick = 0
        self.is_able = True

    def told(self) -> ByHand:
        """What it took."""
        return ByHand(self.sticks, self.metal, self.cost, self.sets_per_stick)

    def whole_sets(self, order: list[Stick], per_set: dict[str, int], sets: int) -> None:
        """As many whole sets a stick as it gives, one kind of stick after the other."""
        size = _size(self.problem, per_set)
        for stick in order:
            whole = self.problem.room(stick) // size
            there = self.left[stick]
            full = sets // whole if there is None else min(sets // whole, there)
            self._take(stick, full, taken=whole * size)
            sets -= full * whole
            # the last stick carries fewer sets and may leave a drop worth keeping
            if 0 < sets < whole and self.left[stick] != 0:
                self._take(stick, 1, taken=sets * size)
                sets = 0
            if full and not self.sets_per_stick:
                self.sets_per_stick = whole
        while sets and self.is_able:
            # the sticks that hold a set ran out: each set from what lies there, pieced together
            self.is_able = self.best_fit(per_set)
            sets -= 1

    def best_fit(self, counts: dict[str, int]) -> bool:
        """So many of each piece by themselves, best fit; False when the sticks do not suffice."""
        if not any(counts.values()):
            return True
        pieces = tuple(
            Piece(p.label, p.length, counts.get(p.label, 0)) for p in self.problem.pieces
        )
        sticks = tuple(replace(stick, count=n) for stick, n in self.left.items())
        figures = reduce(replace(self.problem, pieces=pieces, sticks=sticks))
        taken = best_fit_decreasing(figures)
        if sum(made_by(taken, len(figures.sizes))) < sum(counts.values()):
            return False
        for pattern, times in taken.items():
            label = figures.sticks[pattern.stick].label
            stick = next(stick for stick in self.left if stick.label == label)
            self._take(stick, times, taken=figures.taken(pattern.counts))
        return True

    def _take(self, stick: Stick, times: int, *, taken: int) -> None:
        if not times:
            return
        left = self.left[stick]
        self.left[stick] = None if left is None else left - times
        worth = self.problem.worth_of(stick, self.problem.left_over(stick, taken))
        self.sticks += times
        self.metal += times * stick.length
        self.cost += times * (self.problem.cost_of(stick) - worth)
