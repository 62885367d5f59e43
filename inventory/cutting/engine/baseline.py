"""The cut list a careful person makes by hand: best fit, longest piece first; or set by set.

The first starts the search and is what no plan may be worse than; the second is what mixed
patterns are compared with.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from dataclasses import replace
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

    The stick is the one that does it for least, of those that are there as often as needed.
    A set longer than every stick gets its own sticks, best fit; so do the pieces beyond whole
    sets. ``None`` when the pieces form no sets: ``per_set`` is not given for each of them and
    the counts have no common divisor; or when the sticks do not suffice.
    """
    per_set = _per_set(problem)
    sets = min(
        (p.count // per_set[p.label] for p in problem.pieces if p.label in per_set), default=0
    )
    if not sets:
        return None
    rest = {p.label: p.count - sets * per_set[p.label] for p in problem.pieces if p.count}
    # racks rarely hold parts in whole sets: what is left of them is cut by itself
    parts = [_whole_sets(problem, per_set, sets), _best_fit(problem, rest, times=1)]
    if any(part is None for part in parts):
        return None
    done = [part for part in parts if part is not None]
    return ByHand(
        sum(part.sticks for part in done),
        sum(part.metal for part in done),
        sum(part.cost for part in done),
        done[0].sets_per_stick,
    )


def _per_set(problem: CutProblem) -> dict[str, int]:
    wanted = [piece for piece in problem.pieces if piece.count]
    if all(piece.per_set for piece in wanted):
        return {piece.label: piece.per_set for piece in wanted}
    # 300 of one and 600 of another are 300 sets of one and two
    sets = gcd(*(piece.count for piece in wanted))
    return {piece.label: piece.count // sets for piece in wanted} if sets > 1 else {}


def _whole_sets(problem: CutProblem, per_set: dict[str, int], sets: int) -> ByHand | None:
    size = sum((p.length + problem.kerf) * per_set.get(p.label, 0) for p in problem.pieces)
    found = []
    for stick in problem.sticks:
        whole = problem.room(stick) // size
        if whole and (stick.count is None or stick.count * whole >= sets):
            found.append(_sets_on(problem, stick, size, sets=sets))
    if found:
        # a person cutting by hand would at least pick the right stick for it
        return min(found, key=lambda by_hand: by_hand.cost)
    return _best_fit(problem, per_set, times=sets)


def _sets_on(problem: CutProblem, stick: Stick, size: int, *, sets: int) -> ByHand:
    whole = problem.room(stick) // size
    full, rest = divmod(sets, whole)
    cost = 0
    # the last stick carries fewer sets and may leave a drop worth keeping
    for times, on_it in ((full, whole), (1, rest)):
        if on_it:
            left = problem.left_over(stick, on_it * size)
            cost += times * (problem.cost_of(stick) - problem.worth_of(stick, left))
    sticks = full + (1 if rest else 0)
    return ByHand(sticks, sticks * stick.length, cost, whole)


def _best_fit(problem: CutProblem, counts: dict[str, int], *, times: int) -> ByHand | None:
    """So many of each piece cut by themselves from sticks that can be bought, ``times`` over."""
    pieces = tuple(Piece(p.label, p.length, counts.get(p.label, 0)) for p in problem.pieces)
    bought = tuple(stick for stick in problem.sticks if stick.count is None)
    figures = reduce(replace(problem, pieces=pieces, sticks=bought))
    taken = best_fit_decreasing(figures)
    if sum(made_by(taken, len(figures.sizes))) < sum(counts.values()):
        return None
    sticks = sum(taken.values())
    metal = sum(figures.sticks[p.stick].length * number for p, number in taken.items())
    return ByHand(times * sticks, times * metal, times * figures.total(taken), 0)
