"""Whole plans near a relaxed one, and plans without pieces nobody wants."""

from __future__ import annotations

from dataclasses import replace

from inventory.cutting.engine.baseline import best_fit_decreasing
from inventory.cutting.engine.model import Figures, Relaxed, Taken, made_by
from inventory.cutting.engine.patterns import Pattern
from inventory.cutting.engine.search import Search

HARDLY = 1e-6


def round_off(search: Search, relaxed: Relaxed) -> None:
    """Keep the whole part of the relaxed plan, fill up the rest by best fit.

    Then again with the patterns of the largest fractions taken once more, one after the other.
    """
    kept, fractions = whole_part(search, relaxed)
    _offer_filled(search, kept)
    # the surest of the fractions first; each try keeps those before it
    for name in sorted(fractions, key=lambda name: -fractions[name]):
        kept[name] = kept.get(name, 0) + 1
        if search.clock.is_up() or not _offer_filled(search, kept):
            return


def whole_part(search: Search, relaxed: Relaxed) -> tuple[Taken, dict[Pattern, float]]:
    """How often each pattern is taken for certain, and the fractions that are left."""
    names = list(search.patterns)[: len(relaxed.times)]
    times = dict(zip(names, relaxed.times.tolist(), strict=True))
    kept = {name: int(value + HARDLY) for name, value in times.items()}
    fractions = {name: value - kept[name] for name, value in times.items()}
    return (
        {name: whole for name, whole in kept.items() if whole},
        {name: part for name, part in fractions.items() if part > HARDLY},
    )


def rest_of(figures: Figures, kept: Taken) -> Figures | None:
    """What the kept patterns leave of sticks and pieces; ``None`` when they take too many."""
    used = [0] * len(figures.sticks)
    for pattern, times in kept.items():
        used[pattern.stick] += times
    sticks = []
    for stick, out in zip(figures.sticks, used, strict=True):
        if stick.count is not None and out > stick.count:
            return None
        count = None if stick.count is None else stick.count - out
        sticks.append(replace(stick, count=count))
    return replace(figures, sticks=tuple(sticks), demand=figures.left_out(kept))


def together(kept: Taken, rest: Taken) -> Taken:
    """Both plans as one."""
    return {name: kept.get(name, 0) + rest.get(name, 0) for name in {**kept, **rest}}


def _offer_filled(search: Search, kept: Taken) -> bool:
    """Offer the kept patterns with the rest filled up; False when they take too many sticks."""
    rest = rest_of(search.figures, kept)
    if rest is None:
        return False
    filled = together(kept, best_fit_decreasing(rest))
    search.offer(without_extra(search.figures, filled))
    return True


def without_extra(figures: Figures, taken: Taken) -> Taken:
    """The plan with no piece beyond what is wanted, each left off where that saves most."""
    made = made_by(taken, len(figures.sizes))
    if all(got <= want for got, want in zip(made, figures.demand, strict=True)):
        return taken
    sticks = [pattern for pattern, times in taken.items() for _ in range(times)]
    for i, (got, want) in enumerate(zip(made, figures.demand, strict=True)):
        for _ in range(got - want):
            # where the saving is greatest: a stick that becomes empty, a drop that becomes long
            holders = [k for k, pattern in enumerate(sticks) if pattern.counts[i]]
            at = min(holders, key=lambda k: _change(figures, sticks[k], i))
            sticks[at] = _one_less(sticks[at], i)
    result: Taken = {}
    for pattern in sticks:
        if any(pattern.counts):
            result[pattern] = result.get(pattern, 0) + 1
    return result


def _one_less(pattern: Pattern, i: int) -> Pattern:
    counts = list(pattern.counts)
    counts[i] -= 1
    return Pattern(pattern.stick, tuple(counts))


def _change(figures: Figures, pattern: Pattern, i: int) -> int:
    """What leaving off one piece does to the cost of the stick; an empty stick costs nothing."""
    shorter = _one_less(pattern, i)
    after = figures.cost(shorter) if any(shorter.counts) else 0
    return after - figures.cost(pattern)
