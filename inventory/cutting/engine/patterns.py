"""Patterns and the totals they can reach: what the search looks through, in whole numbers.

A pattern is how many pieces of each size come off one stick. Patterns with the same total use
the stick alike, so the search runs over *totals* (all sums of pieces that some stick has room
for), one layer for each size. Prices, values and costs are integers throughout: what is proven
here is not proven up to rounding.

Source: P. C. Gilmore and R. E. Gomory, *A linear programming approach to the cutting-stock
problem*, Operations Research 9 (1961) 849-859 (pricing patterns as a knapsack); the layers
are the usual knapsack recursion.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

NEVER = -(2**61)  # the value of a total that cannot be reached; sums stay far from it
REACHED = -(2**60)
GRID_STEPS = 4_000


@dataclass(frozen=True, slots=True)
class Pattern:
    """``counts[i]`` pieces of size ``i`` from one stick of kind ``stick``."""

    stick: int
    counts: tuple[int, ...]


class Totals:
    """The totals within ``room`` of at most ``most[i]`` pieces of each of ``sizes``.

    Parameters
    ----------
    sizes, most, room
        Micrometres (a kerf with each piece), how many at most, micrometres of the longest.
    grid, up
        Sizes are rounded to multiples of ``grid``, up or down; 1 leaves them exact. Rounded
        up, every pattern found fits; rounded down, no pattern that fits is overlooked.
    """

    def __init__(
        self, sizes: tuple[int, ...], most: tuple[int, ...], room: int, *, grid: int, up: bool
    ) -> None:
        self.grid = grid
        self.sizes = [-(-size // grid) if up else size // grid for size in sizes]
        self.room = room // grid
        # a size may round down to nothing: then only the demand limits it
        self.most = [
            min(count, self.room // size) if size else count
            for size, count in zip(self.sizes, most, strict=True)
        ]
        self.values = np.zeros(1, dtype=np.int64)
        self.back: list[np.ndarray] = []

    def reach(self, limit: int) -> bool:
        """Find the totals; False, and nothing kept, when there are more than ``limit``."""
        totals = self.values
        for size, most in zip(self.sizes, self.most, strict=True):
            # piece by piece, so that no more than the demand is ever stacked up
            step = totals
            for _ in range(most):
                step = step[step <= self.room - size] + size
                totals = np.union1d(totals, step)
                if len(totals) > limit:
                    return False
        self.values = totals
        self.back = [self._back(size) for size in self.sizes]
        return True

    def _back(self, size: int) -> np.ndarray:
        """For each total the index of the total without one piece; the last cell means none."""
        nowhere = len(self.values)
        without = self.values - size
        at = np.searchsorted(self.values, without)
        there = (without >= 0) & (self.values[np.minimum(at, nowhere - 1)] == without)
        return np.append(np.where(there, at, nowhere), nowhere)

    def taken(self) -> np.ndarray:
        """The totals in micrometres."""
        return self.values * self.grid

    def layers(self, prices: list[int]) -> list[np.ndarray]:
        """Best value of each total from the first 0, 1, 2 ... sizes at these prices."""
        # the extra last cell is where steps to nowhere lead; it never has a value
        best = np.full(len(self.values) + 1, NEVER, dtype=np.int64)
        best[0] = 0
        found = [best]
        for back, most, price in zip(self.back, self.most, prices, strict=True):
            moved, best = best, best.copy()
            for _ in range(most):
                moved = moved[back] + price
                np.maximum(best, moved, out=best)
            best[-1] = NEVER
            found.append(best)
        return found

    def trace(self, layers: list[np.ndarray], prices: list[int], at: int) -> tuple[int, ...]:
        """The pieces behind the best value of the total with index ``at``."""
        counts = [0] * len(prices)
        # the fewest of the last size that explain the value, then the size before
        for i in range(len(prices) - 1, -1, -1):
            value = int(layers[i + 1][at])
            while int(layers[i][at]) + counts[i] * prices[i] != value:
                at = int(self.back[i][at])
                counts[i] += 1
        return tuple(counts)

    def all_worth(
        self, layers: list[np.ndarray], prices: list[int], *, least: np.ndarray, limit: int
    ) -> np.ndarray | None:
        """Every pattern whose value reaches ``least`` of its total, one a row.

        ``None`` when there are more than ``limit``. Backwards through the layers each branch
        is kept only while the best completion still reaches its goal, so none is a dead end.
        """
        at = np.nonzero(layers[-1][: len(least)] >= least)[0]
        goal, counts = least[at], np.zeros((len(at), len(prices)), dtype=np.int64)
        for i in range(len(prices) - 1, -1, -1):
            if len(at) > limit:
                return None
            at, goal, counts = self._branch(i, layers[i], prices[i], (at, goal, counts))
        return counts if len(counts) <= limit else None

    def _branch(
        self, i: int, layer: np.ndarray, price: int, state: tuple[np.ndarray, ...]
    ) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Try 0, 1, 2 ... pieces of size ``i`` on every branch."""
        at, goal, counts = state
        kept: list[tuple[np.ndarray, np.ndarray, np.ndarray]] = []
        for number in range(self.most[i] + 1):
            fits = layer[at] >= np.maximum(goal, REACHED)
            chosen = counts[fits].copy()
            chosen[:, i] = number
            kept.append((at[fits], goal[fits], chosen))
            # one more of this size: the sizes before it have that much less to reach
            at, goal = self.back[i][at], goal - price
            going = at < len(self.values)
            at, goal, counts = at[going], goal[going], counts[going]
        joined = [np.concatenate(parts) for parts in zip(*kept, strict=True)]
        return joined[0], joined[1], joined[2]
