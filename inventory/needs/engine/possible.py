"""How many complete sets are possible now, of each variant alone and in the wanted mix.

Every item has one recipe at most, so whether a number of sets can be made is one explosion over
stock and racks: it can when no bought item is short and the pieces come off the sticks. More
sets never take less, so the largest number is found by halving. Nothing is expected to fail
here; what usually fails is counted where things are bought.
"""

from __future__ import annotations

from collections.abc import Callable

from inventory.needs.engine.explode import explode, wanted_of
from inventory.needs.engine.plan import Possible
from inventory.needs.engine.problem import NeedsProblem, Variant
from inventory.needs.engine.sticks import Steel

MOST_SETS = 100_000  # asked about at all


def possible_alone(problem: NeedsProblem, steel: Steel, variant: Variant) -> Possible:
    """Sets of one variant when everything goes into it, wanted or not."""
    check = Check(problem, steel)
    sets = largest(lambda n: not check.short({variant.item: n}), MOST_SETS)
    return Possible(
        variant=variant.item,
        sets=sets,
        finished=problem.item(variant.item).there,
        parts={variant.item: sets},
        stopped_by=check.short({variant.item: sets + 1}, all_of_them=True),
        is_exact=check.is_exact,
    )


def possible_mix(problem: NeedsProblem, steel: Steel) -> Possible:
    """Sets in the wanted mix, at most as many as are wanted."""
    check, order = Check(problem, steel), mix_order(problem)
    sets = largest(lambda n: not check.short(mix_of(problem, order, n)), len(order))
    more = mix_of(problem, order, sets + 1)
    wanted = wanted_of(problem)
    return Possible(
        variant=None,
        sets=sets,
        finished=sum(min(problem.item(key).there, count) for key, count in wanted.items()),
        parts=mix_of(problem, order, sets),
        stopped_by=check.short(more, all_of_them=True) if sets < len(order) else (),
        is_exact=check.is_exact,
    )


def mix_order(problem: NeedsProblem) -> tuple[str, ...]:
    """The wanted sets one after the other, so that every beginning keeps the mix.

    The next set is of the variant with the largest wanted / (2 x begun + 1); a tie goes to the
    one named first. Source: the divisor method of Webster and Sainte-Laguë.
    """
    wanted, begun = wanted_of(problem), dict.fromkeys(wanted_of(problem), 0)
    order = []
    for _ in range(sum(wanted.values())):
        # max takes the first of equals, so the order of the variants settles ties
        key = max(wanted, key=lambda key: wanted[key] / (2 * begun[key] + 1))
        begun[key] += 1
        order.append(key)
    return tuple(order)


def mix_of(problem: NeedsProblem, order: tuple[str, ...], sets: int) -> dict[str, int]:
    """How many of each variant the first so many sets are."""
    parts = {variant.item: 0 for variant in problem.variants}
    for key in order[:sets]:
        parts[key] += 1
    return parts


def largest(holds: Callable[[int], bool], most: int) -> int:
    """The largest number up to ``most`` for which it holds; it holds for 0, and once not, never."""
    low, high = 0, 1
    # doubling first: the answer is mostly small, and each question may be a cut list
    while high <= most and holds(high):
        low, high = high, 2 * high
    high = min(high, most + 1)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low


class Check:
    """Whether sets can be made from what is here, and what is short when not."""

    def __init__(self, problem: NeedsProblem, steel: Steel) -> None:
        self.problem, self.steel, self.is_exact = problem, steel, True
        self.made = {recipe.output for recipe in problem.recipes}

    def short(self, wanted: dict[str, int], *, all_of_them: bool = False) -> tuple[str, ...]:
        """Bought items that do not suffice; only the first found unless all are asked for."""
        found = explode(self.problem, wanted, with_scrap=False)
        short = [
            item.key
            for item in self.problem.items
            if item.key not in self.made and not item.is_cut_from_sticks and found.net[item.key]
        ]
        for item in self.problem.items:
            # steel is the dear question: left out when something else is short anyway
            if item.is_cut_from_sticks and (all_of_them or not short):
                answer = self.steel.fits(item, found.pieces_of(item.key))
                self.is_exact &= answer.is_exact
                short += [item.key] if answer.sticks else []
        return tuple(short)
