"""What the outlook is asked: the nights left, who may come, what is made of what, and by when.

Every count is a whole number in the unit of its item; every date is text, ``YYYY-MM-DD``;
minutes are minutes of work. Nonsense is refused at birth with the field and the reason.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum
from typing import Any

from inventory.engines import strict
from workshops.season.engine import checks
from workshops.season.engine.facts import (
    Answer,
    Arrival,
    IceOut,
    Made,
    PastNight,
    PastWork,
    Person,
    ReadyBy,
)

__all__ = [
    "Answer",
    "Arrival",
    "IceOut",
    "Item",
    "Made",
    "Night",
    "NightKind",
    "Operation",
    "PastNight",
    "PastWork",
    "Person",
    "Problem",
    "ReadyBy",
    "Station",
    "Variant",
    "from_json",
    "to_json",
]


class NightKind(Enum):
    """Which work may run: arcs and straw never share a room on one night."""

    STEEL = "steel"  # no straw work
    STRAW = "straw"  # no hot work
    MIXED = "mixed"  # both, in separate rooms


@dataclass(frozen=True, slots=True)
class Night:
    """One shop night still to come.

    Parameters
    ----------
    date
        ``YYYY-MM-DD``; no two nights share one.
    kind
        Steel, straw or mixed.
    blocks
        Minutes of work in each time block, in order, breaks left out; 1 to 480 each.
    last_spark
        Minutes of work after which no arc is struck. None: no limit within the blocks.
    watch_until
        Minutes of work during which the fire watch does nothing else, when hot work runs.
        None: to the end of the night.
    chance_lost
        0 to 1 when the club knows better than its history; None: learned from history.
    closed
        Operations that cannot run on this night, whatever its kind.
    """

    date: str
    kind: NightKind
    blocks: tuple[int, ...]
    last_spark: int | None = None
    watch_until: int | None = None
    chance_lost: float | None = None
    closed: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        checks.is_date(self.date, "date")
        checks.each_in_range(self.blocks, 1, 480, "blocks")
        if not self.blocks:
            raise ValueError("blocks must have at least one time block")
        checks.in_range(self.chance_lost, 0.0, 1.0, "chance_lost")
        checks.in_range(self.last_spark, 0, 1440, "last_spark")
        checks.in_range(self.watch_until, 0, 1440, "watch_until")


@dataclass(frozen=True, slots=True)
class Station:
    """Benches of one sort: ``crew_min`` to ``crew_max`` people at each open bench."""

    id: str
    title: str
    benches: int
    crew_min: int = 1
    crew_max: int = 1

    def __post_init__(self) -> None:
        checks.in_range(self.benches, 0, 500, "benches")
        checks.in_range(self.crew_min, 1, 20, "crew_min")
        checks.in_range(self.crew_max, self.crew_min, 50, "crew_max")


@dataclass(frozen=True, slots=True)
class Item:
    """Stock, a part on the rack or a finished part: ``on_hand`` now, at most ``rack_limit``."""

    id: str
    title: str
    on_hand: int = 0
    rack_limit: int | None = None

    def __post_init__(self) -> None:
        checks.in_range(self.on_hand, 0, 10**9, "on_hand")
        checks.in_range(self.rack_limit, 1, 10**9, "rack_limit")


@dataclass(frozen=True, slots=True)
class Operation:
    """One job at a station.

    Parameters
    ----------
    minutes
        Person-minutes a piece that the build sheet states, more than 0; the club's own
        tallies outweigh it as they come in.
    makes, uses
        The item one piece adds to its rack, and what one piece takes, counted per piece.
    hot, straw
        Hot work needs a fire watch and stops at the last spark; straw work never runs on a
        steel night.
    learning
        Time of piece 2n over time of piece n (Wright, unit model): 1 is no learning,
        0.9 is "a tenth less each time the count doubles".
    made_this_winter, learned_at
        Pieces this winter's people have made, and the count at which the minutes hold
        (None: at today's count).
    """

    id: str
    title: str
    station: str
    minutes: float
    makes: str
    uses: dict[str, int] = field(default_factory=dict)
    hot: bool = False
    straw: bool = False
    learning: float = 1.0
    made_this_winter: int = 0
    learned_at: int | None = None

    def __post_init__(self) -> None:
        checks.in_range(self.minutes, 0.01, 1440.0, "minutes")
        checks.in_range(self.learning, 0.5, 1.0, "learning")
        checks.in_range(self.made_this_winter, 0, 10**7, "made_this_winter")
        checks.in_range(self.learned_at, 0, 10**7, "learned_at")
        checks.each_in_range(self.uses.values(), 1, 10**9, "uses")


@dataclass(frozen=True, slots=True)
class Variant:
    """A set of one drawing: the parts of one set, how many are wanted, how many are finished."""

    id: str
    title: str
    parts: dict[str, int]
    target: int
    finished: int = 0

    def __post_init__(self) -> None:
        if not self.parts:
            raise ValueError("parts must name at least one item")
        checks.each_in_range(self.parts.values(), 1, 10**6, "parts")
        checks.in_range(self.target, 0, 10**6, "target")
        checks.in_range(self.finished, 0, 10**6, "finished")


@dataclass(frozen=True, slots=True)
class Problem:
    """The rest of the winter, complete.

    Parameters
    ----------
    variants
        In the order in which parts are given to them when they share some.
    total_target
        None: the target is reached when every variant has its own target. A number: when
        all variants together reach it.
    learners_per_lead
        The club's ratio; 0 when nobody learns on shop nights.
    carries_on
        Whether the club goes on building once the target is reached.
    """

    nights: tuple[Night, ...]
    stations: tuple[Station, ...]
    items: tuple[Item, ...]
    operations: tuple[Operation, ...]
    variants: tuple[Variant, ...]
    people: tuple[Person, ...]
    arrivals: tuple[Arrival, ...] = ()
    history: tuple[PastNight, ...] = ()
    made: tuple[Made, ...] = ()
    ready_by: ReadyBy | None = None
    ice: tuple[IceOut, ...] = ()
    total_target: int | None = None
    learners_per_lead: int = 1
    carries_on: bool = True

    def __post_init__(self) -> None:
        checks.in_range(self.total_target, 0, 10**6, "total_target")
        checks.in_range(self.learners_per_lead, 0, 20, "learners_per_lead")
        checks.names_are_known(self)
        checks.operations_flow(self)

    @property
    def target(self) -> int:
        """Sets wanted, all variants."""
        if self.total_target is not None:
            return self.total_target
        return sum(variant.target for variant in self.variants)

    @property
    def finished(self) -> int:
        """Sets finished before the first night to come."""
        return sum(variant.finished for variant in self.variants)


def from_json(raw: object) -> Problem:
    """The problem in what ``json.load`` gave.

    Raises
    ------
    inventory.engines.strict.ProblemRefused
        Naming the key and the reason.
    """
    return strict.from_json(Problem, raw)


def to_json(problem: Problem) -> Any:
    """The plain form, ready for ``json.dump``; ``from_json`` reads it back."""
    return strict.to_json(problem)
