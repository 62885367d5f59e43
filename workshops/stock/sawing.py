"""One cut list as the page at the saw shows it: drawn, how far it is cut, what is next."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from inventory.cutting.drops import Heap, heaps_of
from inventory.cutting.models import CutListRun, CutTick
from inventory.cutting.progress import PatternProgress, Progress, progress_of
from inventory.cutting.queries import CutList, cut_list_of
from inventory.ledger.queries import pieces_of
from inventory.materials.models import Item
from inventory.measures.lengths import Units, spell_length
from workshops.stock.drawing import DrawnStrip, draw, lettered

HEAPED_WITHIN = timedelta(weeks=12)


@dataclass(frozen=True, slots=True)
class Bench:
    """One pattern: its picture, how far it is cut, and the ticks that can be taken back."""

    number: int
    drawn: DrawnStrip
    progress: PatternProgress
    stops: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sawing:
    """The whole page."""

    told: CutList
    progress: Progress
    benches: tuple[Bench, ...]
    pieces: list[tuple[str, str, int, int]]
    heaps: list[Heap]
    before: tuple[CutListRun, ...]

    @property
    def latest(self) -> CutTick | None:
        """The tick written last, whose places the next one keeps."""
        ticks = (tick for bench in self.benches for tick in bench.progress.ticks)
        return max(ticks, key=lambda tick: tick.pk, default=None)


def sawing_of(run: CutListRun, now: datetime) -> Sawing:
    """Everything the page of a list shows. 5 queries."""
    told, progress = cut_list_of(run), progress_of(run)
    units = run.shop.length_units
    return Sawing(
        told=told,
        progress=progress,
        benches=tuple(_benches(told, progress, units)),
        pieces=lettered(told),
        heaps=heaps_of(run.shop, now - HEAPED_WITHIN, run.item),
        before=tuple(run.replaces.all()),
    )


def _benches(told: CutList, progress: Progress, units: Units) -> Iterator[Bench]:
    for at, drawn in enumerate(draw(told, units)):
        stops = tuple(spell_length(stop, units) for stop in drawn.strip.stops)
        yield Bench(at, drawn, progress.patterns[at], stops)


def labels_of(item: Item) -> list[CutTick]:
    """Drops of the item that carry a number, those of a length that still lies there. 2 queries."""
    lying = {length for length, _ in pieces_of(item)}
    ticks = CutTick.objects.filter(run__item=item, drop_number__isnull=False).standing()
    rows = ticks.filter(drop_um__in=lying).select_related("drop_place")
    return list(rows.order_by("-drop_um", "drop_number"))


def heaped(item: Item, now: datetime) -> dict[str, object]:
    """Heaps of drops and numbered drops of an item. 5 queries; empty for what is not metal."""
    if not item.is_by_length:
        return {"heaps": [], "labels": []}
    return {"heaps": heaps_of(item.shop, now - HEAPED_WITHIN, item), "labels": labels_of(item)}
