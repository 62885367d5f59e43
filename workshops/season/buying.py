"""What is on its way, and what must still be bought and can be here if it is ordered now.

The outlook counts on both and says so: a winter is not lost because the wire is not ordered
yet. Straw and hay that are sold once a year are counted on only once they are ordered.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from inventory.deliveries.expected import Coming
from workshops.nights.making import Pool, Shopful
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


def on_their_way(
    making: Shopful, coming: Iterable[Coming], *, today: date
) -> tuple[engine.Arrival, ...]:
    """What was ordered, on the day it is expected; none of it when that day has passed.

    A metal that is cut to several lengths comes into the pool of each.
    """
    return tuple(
        engine.Arrival(item=name, quantity=count, date=day.isoformat())
        for name, count, day in _ordered(making, coming)
        if day is not None and day >= today
    )


def _ordered(making: Shopful, coming: Iterable[Coming]) -> Iterator[tuple[str, int, date | None]]:
    pools: dict[int, list[tuple[str, Pool]]] = {}
    for name, pool in making.pools.items():
        pools.setdefault(pool.item.pk, []).append((name, pool))
    for row in coming:
        for name, pool in pools.get(row.item.pk, ()):
            count = int(row.left * making.in_one(pool))
            if count:
                yield name, count, row.order.expected_on


def if_ordered_now(
    making: Shopful, left: Mapping[int, int], *, today: date, coming: Sequence[Coming] = ()
) -> tuple[engine.Arrival, ...]:
    """What the outlook may count on: every shortage that can be bought, after its lead time.

    In whole packs: nobody sells a cut piece of wire. What is on order is not bought again.
    """
    pools = making.pools
    missing = Counter(shortages(making, left))
    # A late order is late, and no reason to buy the same twice.
    for name, count, _ in _ordered(making, coming):
        missing[name] -= count
    return tuple(
        engine.Arrival(
            item=name, quantity=_whole_packs(making, pools[name], count),
            date=(today + timedelta(days=pools[name].item.lead_days)).isoformat(),
        )
        for name, count in sorted(missing.items())
        if count > 0 and not pools[name].item.is_one_chance
    )  # fmt: skip


def _whole_packs(making: Shopful, pool: Pool, count: int) -> int:
    pack = pool.item.pack_size * making.in_one(pool)
    return -(-count // pack) * pack
