"""What the pages of a winter need, ready for the template."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from inventory.materials.models import Item
from inventory.places.models import Shop
from workshops.season.history import made_by_night
from workshops.season.models import OutlookRun, Winter


@dataclass(frozen=True, slots=True)
class KindProgress:
    """One kind of set: wanted, made, and still to make."""

    item: Item
    wanted: int
    made: int

    @property
    def left(self) -> int:
        """Still to make; 0 when there are enough."""
        return max(0, self.wanted - self.made)


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the winter is."""

    kinds: tuple[KindProgress, ...]

    @property
    def wanted(self) -> int:
        """Sets wanted, of all kinds."""
        return sum(row.wanted for row in self.kinds)

    @property
    def made(self) -> int:
        """Sets made this winter, of all kinds."""
        return sum(row.made for row in self.kinds)

    @property
    def percent(self) -> int:
        """Made of wanted, in whole per cent; 0 when nothing is wanted."""
        return 100 * self.made // self.wanted if self.wanted else 0


def winter_of(shop: Shop, on: date) -> Winter | None:
    """The winter of a day, else the latest one, or None when the shop has none. 1 query."""
    rows = list(Winter.objects.filter(shop=shop).select_related("shop"))
    now = (row for row in rows if row.starts_on <= on <= row.ends_on)
    return next(now, rows[0] if rows else None)


def progress_of(winter: Winter) -> Progress:
    """What is wanted and made of each set. 2 queries."""
    made: dict[int, int] = {}
    for counts in made_by_night(winter).values():
        for item, count in counts.items():
            made[item] = made.get(item, 0) + count
    return Progress(
        tuple(
            KindProgress(row.item, row.count, made.get(row.item_id, 0))
            for row in winter.targets.select_related("item")
        )
    )


def wanted_of(winter: Winter, item: str) -> dict[str, Any]:
    """What the target says of one set by its id, for its form; empty for none. 1 query."""
    rows = winter.targets.values("item", "new", "replacements", "spares")
    return next(({**row} for row in rows if str(row["item"]) == item), {})


def latest_outlook(winter: Winter) -> OutlookRun | None:
    """The last outlook that was worked out, or None. 1 query."""
    return winter.outlooks.order_by("-made_at", "-pk").first()


def still_wanted(shop: Shop, on: date) -> dict[int, int]:
    """Set item -> how many are still to make this winter; empty without a winter. 3 queries."""
    winter = winter_of(shop, on)
    return {row.item.pk: row.left for row in progress_of(winter).kinds} if winter else {}
