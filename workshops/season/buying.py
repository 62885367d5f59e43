"""What must still be bought for the target, and when it can be here if it is ordered now.

The outlook counts on it and says so: a winter is not lost because the wire is not ordered
yet. Straw and hay that are sold once a year are never counted on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

from inventory.materials.models import Item
from workshops.nights.making import Shopful
from workshops.season.engine import problem as engine

SCRAP_SHARE = 20  # one more for every so many: what is bent, cold-lapped or cut short


@dataclass
class _Book:
    """What is left of racks and stock while the sets are taken apart on paper."""

    making: Shopful
    racks: dict[str, int] = field(default_factory=dict)
    stock: dict[str, int] = field(default_factory=dict)
    short: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.runs = {run.makes: run for run in self.making.runs}
        self.racks = {piece.id: piece.on_rack for piece in self.making.pieces}
        self.stock = {material.id: material.on_hand for material in self.making.materials}

    def take(self, item: str, count: int) -> None:
        """Take so many of a made thing: from its rack first, then from its parts."""
        from_rack = min(count, self.racks.get(item, 0))
        self.racks[item] = self.racks.get(item, 0) - from_rack
        run, count = self.runs.get(item), count - from_rack
        if run is None or count <= 0:
            return
        times = -(-count // run.makes_count)
        for part, each in run.uses.items():
            self.take(part, each * times)
        for material, each in run.materials.items():
            self._use(material, each * times)

    def _use(self, material: str, count: int) -> None:
        missing = count - self.stock.get(material, 0)
        self.stock[material] = max(0, -missing)
        if missing > 0:
            self.short[material] = self.short.get(material, 0) + missing


def shortages(making: Shopful, left: Mapping[int, int]) -> dict[str, int]:
    """Material -> what the sets still to make take beyond what is there, with some for scrap.

    In the units in which the operations of ``making`` take it.
    """
    book = _Book(making)
    for item, count in left.items():
        # Finished sets are counted by their variant: what is left is left after them.
        book.racks[str(item)] = 0
        book.take(str(item), count)
    return {
        name: -(-count * (SCRAP_SHARE + 1) // SCRAP_SHARE) for name, count in book.short.items()
    }


def if_ordered_now(
    making: Shopful, left: Mapping[int, int], *, today: date
) -> tuple[engine.Arrival, ...]:
    """What the outlook may count on: every shortage that can be bought, after its lead time."""
    items = bought_items(making)
    return tuple(
        engine.Arrival(
            item=name, quantity=count,
            date=(today + timedelta(days=items[name].lead_days)).isoformat(),
        )
        for name, count in sorted(shortages(making, left).items())
        if not items[name].is_one_chance
    )  # fmt: skip


def bought_items(making: Shopful) -> dict[str, Item]:
    """Material -> its item. No query."""
    return {
        str(line.item_id): line.item for row in making.operations for line in row.recipe.lines.all()
    }
