"""How parts flow into sets: how many of each are wanted, and how much of that is covered."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from workshops.season.engine.learn import Beliefs
from workshops.season.engine.problem import Operation, Problem


def wanted_sets(problem: Problem) -> tuple[int, ...]:
    """Sets wanted of each variant; a lone total is shared out in the variants' own proportion."""
    own = [variant.target for variant in problem.variants]
    total = problem.total_target
    if total is None or not own:
        return tuple(own)
    weights = own if sum(own) else [1] * len(own)
    # Rounding the running total keeps the parts whole and their sum exact.
    shares = np.cumsum(weights) * total // sum(weights)
    return tuple(int(share) for share in np.diff(shares, prepend=0))


def parts_in_a_set(problem: Problem) -> list[dict[str, float]]:
    """For each variant, how many of each item one set takes, its parts' own parts included."""
    makers = {operation.makes: operation for operation in problem.operations}
    exploded = []
    for variant in problem.variants:
        counts: dict[str, float] = {}
        open_parts = [(item, float(count)) for item, count in variant.parts.items()]
        while open_parts:
            item, count = open_parts.pop()
            counts[item] = counts.get(item, 0.0) + count
            if item in makers:
                open_parts += [(part, count * n) for part, n in makers[item].uses.items()]
        exploded.append(counts)
    return exploded


def pieces_wanted(problem: Problem, wanted: tuple[int, ...]) -> dict[str, float]:
    """Pieces of every item in all the sets wanted; 0 where no set takes any."""
    counts = {item.id: 0.0 for item in problem.items}
    for sets, parts in zip(wanted, parts_in_a_set(problem), strict=True):
        for item, count in parts.items():
            counts[item] += sets * count
    return counts


def cover(problem: Problem, wanted: tuple[int, ...]) -> NDArray[np.float32]:
    """Weights that turn what is on the racks into the share of the winter that it covers.

    Returns
    -------
    array, operations x (items + variants)
        Times the counts on hand and the sets finished: for each operation the share of all its
        pieces wanted that exist, as themselves or inside something further on. An operation
        that no set asks for has weight 0.
    """
    places = {item.id: place for place, item in enumerate(problem.items)}
    pieces = pieces_wanted(problem, wanted)
    inside = _inside(problem)
    sets = parts_in_a_set(problem)
    weights = np.zeros((len(problem.operations), len(places) + len(sets)), dtype=np.float32)
    for row, operation in enumerate(problem.operations):
        need = pieces[operation.makes]
        if need <= 0:
            continue
        for item, counts in inside.items():
            weights[row, places[item]] = counts.get(operation.makes, 0.0) / need
        for column, counts in enumerate(sets):
            weights[row, len(places) + column] = counts.get(operation.makes, 0.0) / need
    return weights


def scrap_allowance(problem: Problem, beliefs: Beliefs, operation: Operation) -> float:
    """Pieces to start for one that ends in a set: scrap here and all the way on."""
    takers = {o.makes: o for o in problem.operations}
    users: dict[str, list[str]] = {}
    for other in takers.values():
        for item in other.uses:
            users.setdefault(item, []).append(other.makes)
    factor, item = 1.0, operation.makes
    # Where several take it, the first stands for all: scrap differs little, flow does not split.
    while True:
        factor /= 1.0 - min(beliefs.rates[takers[item].id].scrap.mean, 0.9)
        if not users.get(item):
            return factor
        item = users[item][0]


def _inside(problem: Problem) -> dict[str, dict[str, float]]:
    """For each item, how many of every item one piece of it contains, itself included."""
    makers = {operation.makes: operation for operation in problem.operations}
    found: dict[str, dict[str, float]] = {}

    def contents(item: str) -> dict[str, float]:
        if item not in found:
            counts = {item: 1.0}
            for part, number in makers[item].uses.items() if item in makers else ():
                for inner, inner_number in contents(part).items():
                    counts[inner] = counts.get(inner, 0.0) + number * inner_number
            found[item] = counts
        return found[item]

    for item in problem.items:
        contents(item.id)
    return found
