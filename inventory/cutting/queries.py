"""Kept cut lists, ready to be drawn to scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.db.models import QuerySet

from inventory.cutting.models import CutListRun
from inventory.measures.lengths import Units, spell_length
from inventory.places.models import Shop


@dataclass(frozen=True, slots=True)
class Stretch:
    """One part of a stick from ``start_um``: a piece, a trimmed end, a drop or scrap."""

    kind: str
    label: str
    start_um: int
    length_um: int


@dataclass(frozen=True, slots=True)
class Strip:
    """The same cuts on ``times`` sticks; ``marks`` are where to saw, from the first end."""

    stick: str
    length_um: int
    times: int
    stretches: tuple[Stretch, ...]
    marks: tuple[int, ...]
    left_over_um: int
    is_kept: bool

    @property
    def pieces(self) -> tuple[Stretch, ...]:
        """The pieces alone, in order."""
        return tuple(part for part in self.stretches if part.kind == "piece")

    @property
    def is_squared(self) -> bool:
        """Whether the first mark only squares the end: the piece begins there, so that the
        blade goes on its near side and not, as at every other mark, on the far one."""
        return bool(self.marks and self.pieces and self.marks[0] == self.pieces[0].start_um)

    @property
    def stops(self) -> tuple[int, ...]:
        """Where the stop block is set, one length after the other."""
        return tuple(dict.fromkeys(piece.length_um for piece in self.pieces))


@dataclass(frozen=True, slots=True)
class CutList:
    """A kept run as a person reads it."""

    run: CutListRun
    strips: tuple[Strip, ...]
    sentences: tuple[str, ...]
    sticks_out: tuple[tuple[str, int], ...]
    drops: tuple[tuple[int, int], ...]
    wanted: tuple[tuple[str, int, int], ...]
    missing: tuple[tuple[str, int], ...]
    is_proven: bool
    ahead: tuple[tuple[str, int, int], ...] = ()

    @property
    def longest_um(self) -> int:
        """The longest stick, to which all are drawn to scale; 1 when nothing is cut."""
        return max((strip.length_um for strip in self.strips), default=1)


def cut_lists_of(shop: Shop, night_key: str = "") -> QuerySet[CutListRun]:
    """Kept cut lists, newest first, of one night when it is given. 1 query."""
    runs = CutListRun.objects.filter(shop=shop).select_related("item", "made_by")
    runs = runs.order_by("-made_at", "-pk")
    # An empty key would match the lists made for the rack, which is not "all of them".
    return runs.filter(night_key=night_key) if night_key else runs


def in_use(shop: Shop, night_key: str) -> list[CutListRun]:
    """The lists that a night is cut by, by metal and kerf. 1 query; empty when there is none.

    Of two lists for one metal and one kerf the later; none that was carried on in another.
    """
    latest: dict[tuple[int, int], CutListRun] = {}
    for run in cut_lists_of(shop, night_key).filter(replaced_by=None):
        latest.setdefault((run.item_id, run.problem["kerf"]), run)
    return sorted(latest.values(), key=lambda run: (run.item.name, run.problem["kerf"]))


def strips_of(run: CutListRun) -> tuple[Strip, ...]:
    """The run's patterns alone, in their order. No queries."""
    return tuple(_strip(raw) for raw in run.result["runs"])


def cut_list_of(run: CutListRun) -> CutList:
    """The run's strips, sentences and counts. No queries when the run has its item."""
    told: dict[str, Any] = run.result
    drops = sorted(((drop["length"], drop["count"]) for drop in told["drops"]), reverse=True)
    return CutList(
        run=run,
        strips=strips_of(run),
        sentences=tuple(told["explanation"]),
        sticks_out=tuple(told["sticks_out"].items()),
        drops=tuple(drops),
        wanted=tuple((p["label"], p["length"], p["count"]) for p in run.problem["pieces"]),
        missing=tuple((part["piece"], part["count"]) for part in told["missing"]),
        is_proven=told["is_proven"],
        ahead=tuple(
            (part["piece"], part["length"], part["count"]) for part in told.get("ahead", ())
        ),
    )


def spelled_marks(strip: Strip, units: Units) -> tuple[str, ...]:
    """The saw marks in the shop's units."""
    return tuple(spell_length(mark, units) for mark in strip.marks)


def _strip(raw: dict[str, Any]) -> Strip:
    cuts, length = raw["cuts"], raw["stick_length"]
    stretches = [
        Stretch("piece", cut["piece"], cut["start"], cut["end"] - cut["start"]) for cut in cuts
    ]
    # A drop begins with a piece: its first end was sawn before.
    if cuts and cuts[0]["start"]:
        stretches.insert(0, Stretch("trim", "", 0, cuts[0]["start"]))
    if raw["left_over"]:
        kind = "drop" if raw["is_kept"] else "scrap"
        start = length - raw["left_over"]
        stretches.append(Stretch(kind, kind, start, raw["left_over"]))
    return Strip(
        stick=raw["stick"],
        length_um=length,
        times=raw["times"],
        stretches=tuple(stretches),
        marks=tuple(raw["marks"]),
        left_over_um=raw["left_over"],
        is_kept=raw["is_kept"],
    )
