"""What must still be bought for the target, and when it can be here if it is ordered now.

The outlook counts on it and says so: a winter is not lost because the wire is not ordered
yet. Straw and hay that are sold once a year are never counted on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

from inventory.materials.models import Item
from inventory.measures.lengths import MICROMETRES_PER_MM
from workshops.nights.making import THOUSANDTHS, Shopful
from workshops.season.engine import problem as engine

# One more for every so many sets still to make: what is bent, cold-lapped or cut short
# spoils the parts in it as well, from the racks too.
SCRAP_SHARE = 10


@dataclass
class _Book:
    """What is left of the racks, and what is used, while the sets are taken apart on paper."""

    making: Shopful
    racks: dict[str, int] = field(default_factory=dict)
    used: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.runs = {run.makes: run for run in self.making.runs}
        self.racks = {piece.id: piece.on_rack for piece in self.making.pieces}

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
            self.used[material] = self.used.get(material, 0) + each * times


def shortages(making: Shopful, left: Mapping[int, int]) -> dict[str, int]:
    """Material -> what the sets still to make take beyond what is there, with some for scrap.

    In the units in which the operations of ``making`` take it.
    """
    book = _Book(making)
    for item, count in left.items():
        # Finished sets are counted by their variant: what is left is left after them.
        book.racks[str(item)] = 0
        book.take(str(item), count + -(-count // SCRAP_SHARE))
    there = {material.id: material.on_hand for material in making.materials}
    return {
        name: count - there.get(name, 0)
        for name, count in book.used.items()
        if count > there.get(name, 0)
    }


def if_ordered_now(
    making: Shopful, left: Mapping[int, int], *, today: date
) -> tuple[engine.Arrival, ...]:
    """What the outlook may count on: every shortage that can be bought, after its lead time.

    In whole packs: nobody sells a cut piece of wire.
    """
    items = bought_items(making)
    return tuple(
        engine.Arrival(
            item=name, quantity=_whole_packs(making, items[name], count),
            date=(today + timedelta(days=items[name].lead_days)).isoformat(),
        )
        for name, count in sorted(shortages(making, left).items())
        if not items[name].is_one_chance
    )  # fmt: skip


def _whole_packs(making: Shopful, item: Item, count: int) -> int:
    pack = item.pack_size * _in_one(making, item)
    return -(-count // pack) * pack


def _in_one(making: Shopful, item: Item) -> int:
    """What one stick, roll or unit as bought holds, in the unit in which operations take it."""
    if not item.is_by_length:
        return THOUSANDTHS if item.kind == Item.Kind.FILL else 1
    lengths = {
        line.length_um
        for row in making.operations
        for line in row.recipe.lines.all()
        if line.item_id == item.pk
    }
    usable = max(0, (item.bought_length_um or 0) - 2 * item.trim_um + item.kerf_um)
    if len(lengths) == 1:
        return max(1, usable // (lengths.pop() + item.kerf_um))
    return max(1, usable // MICROMETRES_PER_MM)


def bought_items(making: Shopful) -> dict[str, Item]:
    """Material -> its item. No query."""
    return {
        str(line.item_id): line.item for row in making.operations for line in row.recipe.lines.all()
    }
