"""How far a cut list is cut: by pattern, by stick, by piece."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db.models import Sum

from inventory.cutting.models import CutListRun, CutTick
from inventory.cutting.queries import Strip, strips_of


@dataclass(frozen=True, slots=True)
class PatternProgress:
    """One pattern: how many of its sticks are cut, and the ticks that stand, latest first."""

    times: int
    done: int
    ticks: tuple[CutTick, ...]

    @property
    def left(self) -> int:
        """Sticks still to be cut."""
        return max(0, self.times - self.done)


@dataclass(frozen=True, slots=True)
class Progress:
    """A whole list: sticks and pieces, cut and in all; ``missing`` by name."""

    patterns: tuple[PatternProgress, ...]
    pieces_done: int
    pieces: int
    missing: tuple[tuple[str, int, int], ...]

    @property
    def sticks_done(self) -> int:
        """Sticks that are cut."""
        return sum(pattern.done for pattern in self.patterns)

    @property
    def sticks(self) -> int:
        """Sticks of the list."""
        return sum(pattern.times for pattern in self.patterns)

    @property
    def is_begun(self) -> bool:
        """Whether anything is ticked."""
        return self.sticks_done > 0

    @property
    def is_done(self) -> bool:
        """Whether every stick is ticked."""
        return self.sticks_done >= self.sticks

    @property
    def is_behind(self) -> bool:
        """Whether the sticks still to be cut will not give the pieces still missing."""
        return self.pieces_left > 0

    @property
    def pieces_left(self) -> int:
        """Pieces missing that no stick still to be cut will give."""
        return sum(short for _, _, short in self.missing)


def progress_of(run: CutListRun) -> Progress:
    """How far the list is cut. 1 query."""
    strips = strips_of(run)
    ticks = list(
        run.ticks.standing().select_related("done_by", "drop_place", "piece_place", "entry")
    )
    patterns = tuple(
        _pattern(strip, [tick for tick in ticks if tick.pattern == at])
        for at, strip in enumerate(strips)
    )
    made = _made(ticks)
    return Progress(
        patterns=patterns,
        pieces_done=sum(made.values()),
        pieces=sum(piece["count"] for piece in run.problem["pieces"]),
        missing=tuple(_missing(run, strips, patterns, made)),
    )


def sticks_cut(runs: Iterable[CutListRun]) -> dict[int, int]:
    """Sticks cut so far of each list, by its number. 1 query; a list without a tick is left out."""
    ticks = CutTick.objects.filter(run__in=[run.pk for run in runs]).standing()
    rows = ticks.order_by().values("run").annotate(cut=Sum("sticks"))
    return {row["run"]: row["cut"] for row in rows}


def sticks_of(run: CutListRun) -> int:
    """Sticks that the whole list takes. No queries."""
    return sum(raw["times"] for raw in run.result["runs"])


def left_of(run: CutListRun, strips: Sequence[Strip]) -> list[int]:
    """Sticks still to be cut, by pattern. 1 query."""
    done = Counter[int]()
    for pattern, sticks in run.ticks.standing().order_by().values_list("pattern", "sticks"):
        done[pattern] += sticks
    return [max(0, strip.times - done[at]) for at, strip in enumerate(strips)]


def still_missing(run: CutListRun) -> list[tuple[str, int, int]]:
    """Pieces wanted and not cut yet, as (name, length, count). 1 query; empty when all are."""
    made = _made(run.ticks.standing())
    rows = ((p["label"], p["length"], p["count"] - made[p["label"]]) for p in run.problem["pieces"])
    return [(label, length, count) for label, length, count in rows if count > 0]


def _pattern(strip: Strip, ticks: list[CutTick]) -> PatternProgress:
    return PatternProgress(strip.times, sum(tick.sticks for tick in ticks), tuple(ticks))


def _made(ticks: Iterable[CutTick]) -> Counter[str]:
    made = Counter[str]()
    for tick in ticks:
        made.update(tick.pieces)
    return made


def _missing(
    run: CutListRun,
    strips: Sequence[Strip],
    patterns: Sequence[PatternProgress],
    made: Counter[str],
) -> list[tuple[str, int, int]]:
    """Name, length and how many the sticks still to be cut do not give."""
    coming = Counter[str]()
    for strip, pattern in zip(strips, patterns, strict=True):
        for piece in strip.pieces:
            coming[piece.label] += pattern.left
    rows = [
        (p["label"], p["length"], p["count"] - made[p["label"]] - coming[p["label"]])
        for p in run.problem["pieces"]
    ]
    return [row for row in rows if row[2] > 0]
