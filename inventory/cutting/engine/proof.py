"""The proof: list every pattern that a better plan could contain, and choose among all of them.

A plan's cost is the bound of the prices plus the reduced costs of its patterns. So a plan that
costs less than the best so far has no pattern whose reduced cost reaches the difference, and
when the best choice among all others is not better, nothing is.
"""

from __future__ import annotations

import numpy as np

from inventory.cutting.engine.model import Choice, Master, Relaxed
from inventory.cutting.engine.patterns import Pattern
from inventory.cutting.engine.rounding import rest_of, together, whole_part, without_extra
from inventory.cutting.engine.search import Prices, Search

FIRST_LOOK = 1_000  # patterns in the first choice, which finds good plans
REST_SHARE = 0.1  # of the time, for what the relaxed plan leaves
FIRST_SHARE = 0.4  # of the time, for that choice when it cannot be the proof
PARTS = (1, 2, 4, 8, 16, 32, 64)  # of the gap, until few enough patterns lie below
TOO_MUCH = 2**60  # a value no pattern reaches
MARGIN = 1e-6  # relative, taken off a bound that HiGHS gives in floating point


def close(search: Search, relaxed: Relaxed, prices: Prices) -> None:
    """Find better plans among few patterns, then choose among all that could matter."""
    if search.is_closed or search.clock.is_up():
        return
    _settle_rest(search, relaxed, _first_look(search, prices)[0] or [])
    if search.is_closed or search.clock.is_up():
        return
    listed, part = _first_look(search, prices)
    is_all = part == 1 and listed is not None and search.is_exact
    patterns = listed or []
    if not is_all:
        # the generated patterns alone already make the relaxed optimum
        patterns = list(dict.fromkeys([*patterns, *search.patterns]))
    _choose(search, patterns, is_all=is_all)
    if search.is_closed or search.clock.is_up() or not search.is_exact:
        return
    # the gap is smaller now, and so is the list
    listed = _listed(search, prices, part=1, limit=search.params.most_patterns)
    if listed is not None:
        _choose(search, listed, is_all=True)


def _first_look(search: Search, prices: Prices) -> tuple[list[Pattern] | None, int]:
    """The patterns below the largest part of the gap that gives few enough, and that part."""
    for part in PARTS:
        listed = _listed(search, prices, part=part, limit=FIRST_LOOK)
        if listed is not None:
            return listed, part
    return None, 0


def _settle_rest(search: Search, relaxed: Relaxed, listed: list[Pattern]) -> None:
    """Keep the whole part of the relaxed plan and choose only for what it leaves.

    A dozen pieces are left of a thousand, so this takes hundredths of a second and halves the
    gap, and with it the list that the proof has to choose from.
    """
    kept, _ = whole_part(search, relaxed)
    rest = rest_of(search.figures, kept)
    if rest is None:
        return
    patterns = list(dict.fromkeys([*listed, *search.patterns]))
    stop = search.clock.share(REST_SHARE)
    choice = Master(rest, patterns).choose(stop, seed=search.seed)
    if choice.is_found:
        search.offer(without_extra(search.figures, together(kept, choice.taken)))


def _choose(search: Search, patterns: list[Pattern], *, is_all: bool) -> None:
    """Choose among the patterns; when they are all that matter, the bound rises."""
    share = 1.0 if is_all else FIRST_SHARE
    before = search.cost
    choice: Choice | None = None
    if patterns:
        master = Master(search.figures, patterns)
        choice = master.choose(search.clock.share(share), seed=search.seed)
        if choice.is_found:
            search.offer(without_extra(search.figures, choice.taken))
    if not is_all:
        return
    if choice is None or choice.is_done:
        # nothing on the list, or nothing better: the best plan is the one at hand
        search.raise_bound(search.cost)
    else:
        # a plan with a pattern outside the list costs no less than the best did before
        search.raise_bound(min(before, search.cost, int(choice.bound * (1 - MARGIN))))


def _listed(search: Search, prices: Prices, *, part: int, limit: int) -> list[Pattern] | None:
    """Patterns with reduced cost below this part of the gap; ``None`` when above the limit."""
    # only plans that cost at least one step less are still of interest
    below = (search.cost - search.step) * search.scale - prices.bound
    return patterns_within(search, prices, slack=max(0, below) // part, limit=limit)


def patterns_within(
    search: Search, prices: Prices, *, slack: int, limit: int
) -> list[Pattern] | None:
    """Patterns whose reduced cost is at most ``slack``; ``None`` when there are more."""
    totals, found = search.inner, list[Pattern]()
    layers = totals.layers(prices.sizes)
    for j, costs in enumerate(search.costs):
        least = costs * search.scale + prices.charges.get(j, 0) - slack
        least[0] = TOO_MUCH  # an uncut stick is not a pattern
        counts = totals.all_worth(layers, prices.sizes, least=least, limit=limit - len(found))
        if counts is None:
            return None
        kept = _undominated(search, j, counts) if search.is_exact else counts
        found += [Pattern(j, tuple(row)) for row in kept.tolist()]
    return found


def _undominated(search: Search, stick: int, counts: np.ndarray) -> np.ndarray:
    """Patterns to which no piece can be added for nothing: the others are never needed."""
    figures, costs, totals = search.figures, search.costs[stick], search.inner
    taken = counts @ np.array(figures.sizes, dtype=np.int64)
    now = costs[np.searchsorted(totals.values, taken)]
    needed = np.ones(len(counts), dtype=bool)
    for i, size in enumerate(figures.sizes):
        room = (counts[:, i] < totals.most[i]) & (taken + size <= figures.rooms[stick])
        at = np.searchsorted(totals.values, np.where(room, taken + size, 0))
        needed &= ~(room & (costs[at] == now))
    return counts[needed]
