"""What a piece on the rack is worth to the winter, in points; a complete set is 100.

A piece carries the share of a set's work that is already in it, less a little for not
being finished, and less the better the rack is already stocked against what the winter
still wants of it. So the plan finishes sets first, and then makes what is shortest.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

SET_POINTS = 100.0
UNFINISHED = 0.8  # a half-made thing may still be lost, bent or superseded
LEAST = 0.1  # of that, when the rack holds all that the winter can use


@dataclass(frozen=True)
class Making:
    """How one item is made: person-minutes a piece, and what one piece takes of others."""

    minutes: float
    uses: Mapping[str, float]


@dataclass(frozen=True)
class Worth:
    """Points of pieces and sets.

    Parameters
    ----------
    making
        Item -> how it is made here; items that are not made here are left out.
    wanted
        Set item -> how many the winter still wants; 0 or more.
    on_rack
        Item -> how many stand on the rack.
    """

    making: Mapping[str, Making]
    wanted: Mapping[str, int]
    on_rack: Mapping[str, int]

    @cached_property
    def needed(self) -> dict[str, float]:
        """Item -> how many the wanted sets take, whatever is made already."""
        needed: dict[str, float] = {}
        for kind, count in self.wanted.items():
            for item, each in self._parts(kind, 1.0, ()).items():
                needed[item] = needed.get(item, 0.0) + each * count
        return needed

    def _parts(self, item: str, times: float, above: tuple[str, ...]) -> dict[str, float]:
        if item in above:
            raise ValueError(f"{item} is made from itself: mend its recipe")
        found = {item: times}
        making = self.making.get(item)
        for part, count in making.uses.items() if making else ():
            for name, each in self._parts(part, times * count, (*above, item)).items():
                found[name] = found.get(name, 0.0) + each
        return found

    def work_in(self, item: str) -> float:
        """Person-minutes in one piece, its parts included; 0 for what is bought."""
        return sum(
            self.making[name].minutes * count
            for name, count in self._parts(item, 1.0, ()).items()
            if name in self.making
        )

    def of(self, item: str) -> float:
        """Points of one more piece on the rack; 0 for what no wanted set uses."""
        sets = [kind for kind in self.wanted if item in self._parts(kind, 1.0, ())]
        if not sets or self.work_in(item) <= 0:
            return 0.0
        share = max(self.work_in(item) / self.work_in(kind) for kind in sets)
        return SET_POINTS * share * UNFINISHED * (LEAST + (1 - LEAST) * self.shortage(item))

    def shortage(self, item: str) -> float:
        """1 with an empty rack, 0 when the rack holds all that the winter still takes."""
        needed = self.needed.get(item, 0.0)
        held = self.on_rack.get(item, 0)
        return max(0.0, 1.0 - held / needed) if needed > 0 else 0.0
