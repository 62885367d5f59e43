"""What the search knows so far: the best plan, the bound, the patterns, the time left."""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from inventory.cutting.engine.model import Figures, Taken
from inventory.cutting.engine.params import CuttingParams
from inventory.cutting.engine.patterns import GRID_STEPS, Pattern, Totals
from inventory.engines.stop import Seconds

ENOUGH_TIME = 0.02  # seconds below which nothing new is begun


class Clock:
    """What is left of the time."""

    def __init__(self, stop: Seconds) -> None:
        # Monotonic: a laptop that sets its clock by the network must not end or stretch a search.
        self.start = time.monotonic()
        self.end = self.start + stop.seconds

    def left(self) -> float:
        """Seconds left, never less than 0."""
        return max(0.0, self.end - time.monotonic())

    def is_up(self) -> bool:
        """Whether it is too late to begin anything."""
        return self.left() < ENOUGH_TIME

    def share(self, part: float = 1.0) -> Seconds:
        """A part of what is left, as a stop."""
        return Seconds(max(ENOUGH_TIME, part * self.left()))

    def spent(self) -> float:
        """Seconds since the start."""
        return time.monotonic() - self.start


@dataclass(frozen=True, slots=True)
class Prices:
    """Integer prices of the sizes, charges of the limited sticks, and the bound they prove.

    All in 1/scale of the unit of cost.
    """

    sizes: list[int]
    charges: dict[int, int]
    bound: int = 0


@dataclass
class Search:
    """One search over the figures; ``best`` is the best plan so far."""

    figures: Figures
    params: CuttingParams
    clock: Clock
    seed: int
    best: Taken | None = None
    bound: int = 0
    patterns: dict[Pattern, None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.inner, self.outer = _totals(self.figures, self.params)
        # as fine as fits 64 bits when all prices of a plan are added up
        self.scale = max(1, 2**57 // self.figures.most_cost)
        if self.best:
            # the first plan makes the first programme feasible
            self.patterns |= dict.fromkeys(self.best)

    @property
    def is_exact(self) -> bool:
        """Whether the totals are looked at without rounding."""
        return self.inner is self.outer

    @property
    def cost(self) -> int:
        """What the best plan so far costs."""
        return self.figures.total(self.best or {})

    @property
    def is_closed(self) -> bool:
        """Whether the best plan is proven."""
        return self.best is not None and self.cost <= self.bound

    @cached_property
    def costs(self) -> list[np.ndarray]:
        """What each kind of stick costs at each total it has room for."""
        return self._costs(self.inner)

    @cached_property
    def outer_costs(self) -> list[np.ndarray]:
        """The same over the totals that bound: never more than the true cost."""
        return self.costs if self.is_exact else self._costs(self.outer)

    @cached_property
    def step(self) -> int:
        """Every plan's cost is a multiple of it, as far as is known."""
        if self.figures.counts_missing or not self.is_exact:
            return 1  # every whole number is possible, as far as is known
        return max(1, int(np.gcd.reduce([np.gcd.reduce(costs[1:]) for costs in self.costs])))

    def offer(self, taken: Taken) -> bool:
        """Take the plan when it cuts everything (or counts what is missing) and costs less."""
        if not self.figures.counts_missing and any(self.figures.left_out(taken)):
            return False
        if self.best is not None and self.figures.total(taken) >= self.cost:
            return False
        self.best = taken
        self.patterns |= dict.fromkeys(taken)
        return True

    def raise_bound(self, bound: int) -> None:
        """Note a bound, rounded up to what a plan can cost at all."""
        self.bound = max(self.bound, -(-bound // self.step) * self.step)

    def _costs(self, totals: Totals) -> list[np.ndarray]:
        taken = totals.taken()
        found = []
        for j, room in enumerate(self.figures.rooms):
            fitting = int(np.searchsorted(taken, room, side="right"))
            found.append(self.figures.costs_at(j, taken[:fitting]))
        return found


def _totals(figures: Figures, params: CuttingParams) -> tuple[Totals, Totals]:
    """Exact totals for both, or one rounded up (what fits) and one down (what bounds)."""
    room = max(figures.rooms, default=0)
    exact = Totals(figures.sizes, figures.demand, room, grid=1, up=True)
    if exact.reach(params.most_sums):
        return exact, exact
    grid = max(1, room // min(GRID_STEPS, params.most_sums))
    up, down = (
        Totals(figures.sizes, figures.demand, room, grid=grid, up=way) for way in (True, False)
    )
    for totals in (up, down):
        totals.reach(totals.room + 1)
    return up, down
