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
    """Sets in the wanted mix, at most as many as are wanted.

    The sets follow one another as ``mix_order`` says. A variant of which one more is not
    possible is left out from there on, and the others go on: no clamps for the bolted sets
    keep nobody from finishing the welded ones.
    """
    check, order = Check(problem, steel), mix_order(problem)
    going, blocked = _Going(check, problem, order), {}
    while (stuck := going.on()) is not None:
        blocked[stuck] = check.short(going.and_one(stuck), all_of_them=True)
    return Possible(
        variant=None,
        sets=sum(going.parts.values()),
        finished=sum(finished_of(problem).values()),
        parts=going.parts,
        # the first that cannot go on breaks the mix; dicts keep their order
        stopped_by=next(iter(blocked.values()), ()),
        is_exact=check.is_exact,
        blocked=blocked,
        even_to=going.even_to or 0,
    )


class _Going:
    """The mix on its way: what is made so far, and what is still to come in its order."""

    def __init__(self, check: Check, problem: NeedsProblem, order: tuple[str, ...]) -> None:
        self._check, self._order, self._problem = check, order, problem
        self.parts = mix_of(problem, (), 0)
        self.even_to: int | None = None

    def on(self) -> str | None:
        """Make as many as possible; the variant that stops it, or nothing when all are made."""
        n = largest(lambda n: not self._check.short(self._and(n)), len(self._order))
        self.parts, left = self._and(n), self._order[n:]
        self.even_to = n if self.even_to is None else self.even_to
        if not left:
            return None
        self._order = tuple(key for key in left if key != left[0])
        return left[0]

    def and_one(self, key: str) -> dict[str, int]:
        """What is made so far and one more of a variant."""
        return self.parts | {key: self.parts[key] + 1}

    def _and(self, sets: int) -> dict[str, int]:
        more = mix_of(self._problem, self._order, sets)
        return {key: count + more[key] for key, count in self.parts.items()}


def finished_of(problem: NeedsProblem) -> dict[str, int]:
    """Finished sets by variant, none beyond what is wanted of it."""
    wanted = wanted_of(problem)
    return {key: min(problem.item(key).there, count) for key, count in wanted.items()}


def mix_order(problem: NeedsProblem) -> tuple[str, ...]:
    """The wanted sets one after the other: those that stand finished, then as the mix wants.

    The next set is of the variant with the largest wanted / (2 x begun + 1); a tie goes to the
    one named first. Source: the divisor method of Webster and Sainte-Laguë.
    """
    wanted, begun = wanted_of(problem), finished_of(problem)
    order = [key for key, count in begun.items() for _ in range(count)]
    for _ in range(sum(wanted.values()) - len(order)):
        # what is full steps aside; max takes the first of equals, so order settles ties
        still = [key for key in wanted if begun[key] < wanted[key]]
        key = max(still, key=lambda key: wanted[key] / (2 * begun[key] + 1))
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
