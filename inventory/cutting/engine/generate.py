"""Column generation: patterns are added while any is worth more than it costs.

At the end the prices, rounded to integers and mended so that no pattern at all beats them,
give a bound that holds exactly.

Source: Gilmore and Gomory (see ``patterns``); a bound from any prices: A. A. Farley, *A note on
bounding a class of linear programming problems*, Operations Research 38 (1990) 922-923.
"""

from __future__ import annotations

import numpy as np

from inventory.cutting.engine.model import Master, Relaxed
from inventory.cutting.engine.patterns import REACHED, Pattern
from inventory.cutting.engine.search import Prices, Search

MORE_PER_ROUND = 4  # patterns added for each kind of stick and round


def generate(search: Search) -> tuple[Relaxed, Prices] | None:
    """The relaxed plan over enough patterns and prices that bound; ``None`` without time."""
    relaxed = prices = None
    while not search.clock.is_up():
        found = Master(search.figures, list(search.patterns)).relax(
            search.clock.share(), seed=search.seed
        )
        if found is None:
            break
        # priced in integers, so that converged means converged and not nearly so
        relaxed, prices = found, _whole_prices(search, found)
        before = len(search.patterns)
        search.patterns |= dict.fromkeys(_worth_adding(search, prices))
        # nothing gains, or only what is there already by the last digit of a price
        if len(search.patterns) == before:
            break
    if relaxed is None or prices is None:
        return None
    # prices prove something whether or not the time sufficed: mended, they always hold
    prices = mended(search, prices)
    search.raise_bound(-(-prices.bound // search.scale))
    return relaxed, prices


def _whole_prices(search: Search, relaxed: Relaxed) -> Prices:
    scale, figures = search.scale, search.figures
    sizes = [int(price * scale) for price in relaxed.prices]
    if figures.counts_missing:
        # no piece is worth more than leaving it out costs
        sizes = [min(p, size * scale) for p, size in zip(sizes, figures.sizes, strict=True)]
    return Prices(sizes, {j: int(charge * scale) for j, charge in relaxed.charges.items()})


def _gains(layers: list[np.ndarray], costs: np.ndarray, scale: int) -> np.ndarray:
    """Worth less cost of the best pattern of each total; the empty one never gains."""
    gains: np.ndarray = layers[-1][: len(costs)] - costs * scale
    gains[0] = REACHED  # an uncut stick is not a pattern
    return gains


def _worth_adding(search: Search, prices: Prices) -> list[Pattern]:
    """For each kind of stick the patterns that gain most."""
    totals, added = search.inner, []
    layers = totals.layers(prices.sizes)
    for j, costs in enumerate(search.costs):
        gains = _gains(layers, costs, search.scale) - prices.charges.get(j, 0)
        # several at once: fewer rounds, and neighbours often serve in whole numbers
        few = min(MORE_PER_ROUND, len(gains))
        for at in np.argpartition(-gains, few - 1)[:few]:
            if gains[at] > 0:
                added.append(Pattern(j, totals.trace(layers, prices.sizes, int(at))))
    return added


def mended(search: Search, prices: Prices) -> Prices:
    """Prices that no pattern beats, and the bound they prove.

    A limited stick's charge becomes what its best pattern gains. For the others all prices
    shrink by the worst ratio first; what rounding leaves is taken off every price, since a
    pattern has at least one piece.
    """
    figures = search.figures
    limits = {j: stick.count for j, stick in enumerate(figures.sticks) if stick.count is not None}
    sizes, gains = prices.sizes, _best_gains(search, prices.sizes)
    if _over(gains, limits) > 0:
        ratio = _worst_ratio(search, sizes, limits)
        sizes = [int(price * ratio) for price in sizes]
        gains = _best_gains(search, sizes)
        over = _over(gains, limits)
        if over > 0:
            sizes = [max(0, price - over) for price in sizes]
            gains = _best_gains(search, sizes)
    # the least charge at which a limited stick gains nothing is the one that bounds best
    charges = {j: max(0, gains[j]) for j in limits}
    worth = sum(price * count for price, count in zip(sizes, figures.demand, strict=True))
    return Prices(sizes, charges, worth - sum(charges[j] * (limits[j] or 0) for j in limits))


def _best_gains(search: Search, sizes: list[int]) -> list[int]:
    layers = search.outer.layers(sizes)
    return [int(_gains(layers, costs, search.scale).max()) for costs in search.outer_costs]


def _over(gains: list[int], limits: dict[int, int]) -> int:
    return max([0, *(gain for j, gain in enumerate(gains) if j not in limits)])


def _worst_ratio(search: Search, sizes: list[int], limits: dict[int, int]) -> float:
    values = search.outer.layers(sizes)[-1]
    ratios = [1.0]  # prices only ever shrink: raising them could break another pattern
    for j, costs in enumerate(search.outer_costs):
        worth = values[1 : len(costs)]
        if j not in limits and (worth > 0).any():
            ratios.append(float((costs[1:] * search.scale / np.maximum(worth, 1)).min()))
    return min(ratios)
