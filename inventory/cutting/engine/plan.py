"""What the cut-list engine answers: sticks to take, marks to saw at, drops to put back."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Any

from inventory.cutting.engine.check import breaches
from inventory.cutting.engine.problem import CutProblem
from inventory.cutting.engine.words import sentences
from inventory.engines import strict
from inventory.measures.lengths import Units


@dataclass(frozen=True, slots=True)
class Cut:
    """One piece on its stick: from ``start`` to ``end``, measured from the first end."""

    piece: str
    start: int
    end: int

    @property
    def length(self) -> int:
        """The piece's length as cut."""
        return self.end - self.start


@dataclass(frozen=True, slots=True)
class Run:
    """The same cuts on ``times`` sticks of one kind; cut one length off all of them, then the next.

    ``left_over`` is what remains of each stick; ``is_kept`` says whether it is a drop.
    """

    stick: str
    stick_length: int
    times: int
    cuts: tuple[Cut, ...]
    left_over: int
    is_kept: bool

    @property
    def marks(self) -> tuple[int, ...]:
        """Where to saw, measured from the first end: the trim first, then each piece's end."""
        first = (self.cuts[0].start,) if self.cuts and self.cuts[0].start else ()
        return first + tuple(cut.end for cut in self.cuts if cut.end < self.stick_length)

    @property
    def counts(self) -> Counter[str]:
        """Pieces of each label on one of the sticks."""
        return Counter(cut.piece for cut in self.cuts)

    @property
    def stops(self) -> tuple[int, ...]:
        """Settings of the stop block, in the order in which they are used."""
        return tuple(dict.fromkeys(cut.length for cut in self.cuts))


@dataclass(frozen=True, slots=True)
class Missing:
    """Pieces that could not be cut. ``is_too_long``: no stick that may be cut is long enough.

    ``metal`` is what they need with a kerf each, micrometres.
    """

    piece: str
    length: int
    count: int
    metal: int
    is_too_long: bool


@dataclass(frozen=True, slots=True)
class Drop:
    """Remnants to put back: ``count`` of ``length``, each from a stick labelled ``stick``."""

    stick: str
    length: int
    count: int


@dataclass(frozen=True, slots=True)
class ByHand:
    """What the same pieces take when each set is cut by itself.

    ``sets_per_stick`` is how many whole sets the stick used most gives, 0 when none fits.
    """

    sticks: int
    metal: int
    cost: int
    sets_per_stick: int


@dataclass(frozen=True, slots=True)
class CutPlan:
    """A cut list. Ask it; nothing in it has to be unpacked.

    ``cost`` is what the sticks cost less what the drops are worth; ``bound`` is what no plan
    for the same pieces can go below; both in the unit of the sticks' cost (metal: micrometres).
    ``least_missing`` is the metal that every plan leaves missing, micrometres.
    """

    problem: CutProblem
    runs: tuple[Run, ...]
    missing: tuple[Missing, ...]
    cost: int
    bound: int
    seconds: float
    least_missing: int = 0
    set_by_set: ByHand | None = None

    @property
    def is_complete(self) -> bool:
        """Whether every piece is cut."""
        return not self.missing

    @property
    def is_proven(self) -> bool:
        """Whether no plan leaves less missing, and none that cuts the same pieces costs less."""
        return self.cost <= self.bound and self.metal_missing <= self.least_missing

    @property
    def gap(self) -> float:
        """How far the cost may be above the best, as a share of the cost."""
        return max(0, self.cost - self.bound) / self.cost if self.cost else 0.0

    @property
    def metal_missing(self) -> int:
        """Micrometres of stick that the missing pieces need, a kerf each."""
        return sum(part.metal for part in self.missing)

    @property
    def sticks_out(self) -> dict[str, int]:
        """How many of each stick are taken, by label, only those that are."""
        out: Counter[str] = Counter()
        for run in self.runs:
            out[run.stick] += run.times
        return dict(out)

    @property
    def stick_count(self) -> int:
        """How many sticks are taken."""
        return sum(run.times for run in self.runs)

    @property
    def made(self) -> dict[str, int]:
        """How many of each piece are cut, by label."""
        made = Counter({piece.label: 0 for piece in self.problem.pieces})
        for run in self.runs:
            for label, count in run.counts.items():
                made[label] += count * run.times
        return dict(made)

    @property
    def metal_out(self) -> int:
        """Micrometres of stick taken, drops among them."""
        return sum(run.stick_length * run.times for run in self.runs)

    @property
    def metal_made(self) -> int:
        """Micrometres in the pieces."""
        return sum(cut.length * run.times for run in self.runs for cut in run.cuts)

    @property
    def drops(self) -> tuple[Drop, ...]:
        """Remnants to put back, longest first."""
        kept: Counter[tuple[int, str]] = Counter()
        for run in self.runs:
            if run.is_kept:
                kept[run.left_over, run.stick] += run.times
        return tuple(
            Drop(stick, length, count)
            for (length, stick), count in sorted(kept.items(), key=lambda part: (-part[0][0], part))
        )

    @property
    def scrap(self) -> int:
        """Micrometres that become neither piece nor drop: blade, trim and short ends."""
        kept = sum(drop.length * drop.count for drop in self.drops)
        return self.metal_out - self.metal_made - kept

    @property
    def stop_changes(self) -> int:
        """How often the stop block is set, cutting run by run and one length after the other."""
        # the first setting counts: somebody has to make it
        settings = [stop for run in self.runs for stop in run.stops]
        return sum(1 for i, stop in enumerate(settings) if i == 0 or settings[i - 1] != stop)

    @property
    def cost_saved(self) -> int | None:
        """What the plan saves against cutting set by set; ``None`` when there are no sets."""
        return None if self.set_by_set is None else self.set_by_set.cost - self.cost

    def breaches(self) -> tuple[str, ...]:
        """What is wrong with the plan, recounted from the pieces up; empty when it is legal."""
        return breaches(self)

    def is_legal(self) -> bool:
        """Whether pieces, sticks, marks and cost all count up."""
        return not self.breaches()

    def explain(self, units: Units = Units.INCH) -> tuple[str, ...]:
        """The plan in sentences, lengths in the shop's units."""
        return sentences(self, units)

    def to_json(self) -> Any:
        """Plain values, with what the properties say; ready for ``json.dump``."""
        raw = strict.to_json(self)
        del raw["problem"]  # whoever asked has it
        for run, told in zip(self.runs, raw["runs"], strict=True):
            told["marks"] = list(run.marks)
        # what is asked of a plan in Python can be read from its file
        raw |= {
            "material": self.problem.material,
            "is_proven": self.is_proven,
            "gap": self.gap,
            "sticks_out": self.sticks_out,
            "made": self.made,
            "drops": strict.to_json(self.drops),
            "scrap": self.scrap,
            "stop_changes": self.stop_changes,
            "metal_missing": self.metal_missing,
            "cost_saved": self.cost_saved,
            "explanation": list(self.explain()),
        }
        return raw
