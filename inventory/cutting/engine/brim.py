"""A first look for plans that use every stick to the brim.

Priced by the metal alone, a pattern's reduced cost is what it wastes. Where the bound of these
prices leaves little or no room for waste, few patterns are left, and one choice among them
either finds a plan at the bound or shows that there is none. Pieces that fill their sticks
exactly are the hardest for the usual search, and the easiest for this one.
"""

from __future__ import annotations

from fractions import Fraction

from inventory.cutting.engine.generate import mended
from inventory.cutting.engine.model import Master
from inventory.cutting.engine.patterns import Pattern
from inventory.cutting.engine.proof import patterns_within
from inventory.cutting.engine.rounding import without_extra
from inventory.cutting.engine.search import Prices, Search

MOST_PATTERNS = 6_000
SHARE = 0.6  # of the time, for the choice


def fill_to_the_brim(search: Search) -> None:
    """Raise the bound to what the metal proves, and look once for a plan that reaches it."""
    if search.figures.counts_missing or not search.is_exact:
        return
    prices = mended(search, _by_metal(search))
    search.raise_bound(-(-prices.bound // search.scale))
    if search.is_closed or search.clock.is_up():
        return
    # a plan at the bound wastes no more than this over all its sticks, so none of them does
    slack = search.bound * search.scale - prices.bound
    patterns = patterns_within(search, prices, slack=slack, limit=MOST_PATTERNS)
    if patterns is None or (patterns and not _is_settled(search, patterns)):
        return
    if not search.is_closed:
        # chosen among all that such a plan could hold, and there is none
        search.raise_bound(search.bound + 1)


def _is_settled(search: Search, patterns: list[Pattern]) -> bool:
    """Choose among the patterns; whether the choice is certain."""
    choice = Master(search.figures, patterns).choose(search.clock.share(SHARE), seed=search.seed)
    if choice.is_found:
        search.offer(without_extra(search.figures, choice.taken))
    return choice.is_done


def _by_metal(search: Search) -> Prices:
    """Each piece at what its length of the cheapest metal costs."""
    figures = search.figures
    metre = min(
        Fraction(figures.problem.cost_of(stick), room)
        for stick, room in zip(figures.sticks, figures.rooms, strict=True)
    )
    return Prices([int(size * metre * search.scale) for size in figures.sizes], {})
