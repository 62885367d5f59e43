"""Racks between stations: what comes, what goes, and in how many minutes one is empty or full.

Rates are pieces a minute.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

SOON = 15.0  # minutes: time enough to change places before hands stand idle


def pieces_waiting(rate: float, minutes: float) -> float:
    """Pieces that lie on a rack through which so many a minute pass.

    Parameters
    ----------
    rate
        Pieces a minute that come and go, not negative.
    minutes
        How long each of them lies there, not negative.

    Returns
    -------
    float
        Pieces on the rack, on average.

    Raises
    ------
    ValueError
        For a negative rate or time.

    Source
    ------
    Little's law, L = lambda W.
    """
    if rate < 0 or minutes < 0:
        raise ValueError("a rate and a time are not negative")
    return rate * minutes


@dataclass(frozen=True, slots=True)
class Rack:
    """Pieces of one kind, and how many of them the rack holds; no limit: no end to it."""

    id: str
    name: str
    pieces: int
    limit: int | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One operation at its present pace: what it makes, and what one piece takes."""

    id: str
    station: str
    makes: str
    rate: float
    uses: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class RackFlow:
    """A rack with what comes to it and goes from it in a minute."""

    rack: Rack
    comes: float = 0.0
    goes: float = 0.0

    @property
    def empty_in(self) -> float | None:
        """Minutes until nothing is left; none while as much comes as goes."""
        if self.goes <= self.comes:
            return None
        return self.rack.pieces / (self.goes - self.comes)

    @property
    def full_in(self) -> float | None:
        """Minutes until it holds no more; none while it does not fill, or has no limit."""
        if self.rack.limit is None or self.comes <= self.goes:
            return None
        return max(0, self.rack.limit - self.rack.pieces) / (self.comes - self.goes)

    @property
    def waits(self) -> float | None:
        """Minutes that a piece put there now lies there at this pace; none when none goes."""
        return self.rack.pieces / self.goes if self.goes > 0 else None


class State(StrEnum):
    """How a station fares."""

    STARVES = "starves"  # soon nothing to work on
    DROWNS = "drowns"  # soon nowhere to put it
    RUNS = "runs"


@dataclass(frozen=True, slots=True)
class Fares:
    """How a station fares, because of which rack, in how many minutes."""

    station: str
    state: State
    rack: str = ""
    minutes: float | None = None


def flow_of(racks: Iterable[Rack], steps: Sequence[Step]) -> dict[str, RackFlow]:
    """Rack -> what comes and goes by all steps together; empty without racks."""
    return {
        rack.id: RackFlow(
            rack,
            comes=sum(step.rate for step in steps if step.makes == rack.id),
            goes=sum(step.rate * step.uses.get(rack.id, 0.0) for step in steps),
        )
        for rack in racks
    }


def fares_of(station: str, flows: Mapping[str, RackFlow], steps: Sequence[Step]) -> Fares:
    """How a station fares whose steps run at these rates; the nearest trouble counts.

    Notes
    -----
    A rack that is empty or full already is trouble in no minutes at all. A step at no pace
    neither empties nor fills, so a station at which nobody works runs.
    """
    found = [Fares(station, State.RUNS)]
    for step in steps:
        if step.station == station and step.rate > 0:
            found += _starving(station, flows, step)
            found += _drowning(station, flows, step)
    troubles = [each for each in found if each.minutes is not None and each.minutes <= SOON]
    return min(troubles, key=lambda each: (each.minutes, each.state), default=found[0])


def _starving(station: str, flows: Mapping[str, RackFlow], step: Step) -> list[Fares]:
    uses = [flows[rack] for rack in step.uses if rack in flows]
    return [
        Fares(station, State.STARVES, each.rack.id, 0.0 if not each.rack.pieces else each.empty_in)
        for each in uses
    ]


def _drowning(station: str, flows: Mapping[str, RackFlow], step: Step) -> list[Fares]:
    behind = flows.get(step.makes)
    if behind is None or behind.rack.limit is None:
        return []
    is_full = behind.rack.pieces >= behind.rack.limit
    return [Fares(station, State.DROWNS, behind.rack.id, 0.0 if is_full else behind.full_in)]
