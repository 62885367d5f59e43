"""The outlook itself: bands, chances, the slowest station, in numbers and in sentences."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from inventory.engines import strict
from workshops.season.engine import sentences
from workshops.season.engine.problem import IceOut, Made, NightKind, ReadyBy


@dataclass(frozen=True, slots=True)
class Band:
    """Where a count lies: in half, in 80 % and in 95 % of the winters, and its middle.

    Whole sets, save the mean. ``low_95 <= low_80 <= low_50 <= median <= high_50 <= ...``.
    """

    low_95: int
    low_80: int
    low_50: int
    median: int
    high_50: int
    high_80: int
    high_95: int
    mean: float


@dataclass(frozen=True, slots=True)
class Chance:
    """A share of winters, with the 95 % interval that comes of counting only so many (Wilson)."""

    share: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class StationShare:
    """In which share of the winters a station was the one that held things up."""

    station: str
    title: str
    share: float


@dataclass(frozen=True, slots=True)
class NightOutlook:
    """One night to come.

    ``finished`` counts sets of the whole winter at its end; ``people`` is the mean number on a
    night that is held; ``pieces`` the mean good pieces by operation; ``slowest`` is sorted,
    largest share first, and leaves out stations that never hold things up.
    """

    date: str
    kind: NightKind
    chance_lost: float
    people: float
    finished: Band
    chance_of_target: Chance
    slowest: tuple[StationShare, ...]
    pieces: dict[str, float]


@dataclass(frozen=True, slots=True)
class VariantOutlook:
    """One variant at the end of the last night."""

    variant: str
    title: str
    target: int
    finished: Band
    chance_of_target: Chance


@dataclass(frozen=True, slots=True)
class DateChance:
    """The chance of having the target by a date; nights on the date itself count.

    ``label`` is "early" or "late", or "ready by" where both ends are one day.
    """

    date: str
    label: str
    chance: Chance


@dataclass(frozen=True, slots=True)
class ItemShort:
    """In which share of the winters work waited for this bought-in or given item."""

    item: str
    title: str
    share: float


@dataclass(frozen=True, slots=True)
class Outlook:
    """What ten thousand winters say.

    ``finish`` gives the chance of finishing on each night, ``gaps`` a sentence for each thing
    that no luck can get past, ``assumptions`` whatever was stated and not learned.
    """

    target: int
    finished_now: int
    nights: tuple[NightOutlook, ...]
    variants: tuple[VariantOutlook, ...]
    at_end: Band
    chance_of_target: Chance
    by_date: tuple[DateChance, ...]
    before_ice: Chance | None
    finish: dict[str, float]
    median_finish: str | None
    slowest: tuple[StationShare, ...]
    short: tuple[ItemShort, ...]
    lost_nights: float
    made: tuple[Made, ...]
    ready_by: ReadyBy | None
    ice: tuple[IceOut, ...]
    gaps: tuple[str, ...]
    assumptions: tuple[str, ...]
    winters: int
    winters_asked: int
    seed: int
    seconds: float

    @property
    def says_assumptions(self) -> bool:
        """Whether a reader must be told that something was assumed and not learned."""
        return bool(self.assumptions)

    @property
    def is_complete(self) -> bool:
        """Whether every winter asked for was computed before the time was up."""
        return self.winters == self.winters_asked

    def is_legal(self) -> bool:
        """Whether the outlook agrees with itself: bands nested, nothing unmade, shares shares."""
        bands = [night.finished for night in self.nights]
        rising = all(a.median <= b.median for a, b in pairwise(bands))
        nested = all(_is_nested(band) for band in [*bands, self.at_end])
        counted = all(band.low_95 >= self.finished_now for band in bands)
        shares = [*self.finish.values(), *(s.share for s in self.slowest)]
        return rising and nested and counted and all(0.0 <= share <= 1.0 for share in shares)

    def explain(self) -> list[str]:
        """The outlook in plain sentences, each with its numbers; the first says the most."""
        return sentences.of(self)

    def to_json(self) -> Any:
        """The plain form, ready for ``json.dump``."""
        return strict.to_json(self)


def from_json(raw: object) -> Outlook:
    """A stored outlook, read back.

    Raises
    ------
    inventory.engines.strict.ProblemRefused
        Naming the key and the reason.
    """
    return strict.from_json(Outlook, raw)


def _is_nested(band: Band) -> bool:
    steps = [band.low_95, band.low_80, band.low_50, band.median]
    steps += [band.high_50, band.high_80, band.high_95]
    return steps == sorted(steps)
