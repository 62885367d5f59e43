"""What the needs engine answers: needs, complete sets possible, what runs out, what to buy."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from inventory.engines import strict
from inventory.needs.engine.check import breaches
from inventory.needs.engine.problem import NeedsProblem
from inventory.needs.engine.words import sentences


@dataclass(frozen=True, slots=True)
class Need:
    """One item of the explosion.

    ``level`` is 0 for a set and grows towards bought goods. ``gross`` is what the wanted sets
    take when nothing is on hand; ``required`` what is still asked for once the parts above it
    are used up; ``on_order`` what of it is on its way; ``net`` what must still be made or
    bought; ``started`` adds what is expected to fail. ``is_bought``: it has no recipe.
    """

    item: str
    level: int
    gross: int
    required: int
    there: int
    net: int
    started: int
    is_bought: bool
    on_order: int = 0


@dataclass(frozen=True, slots=True)
class PieceNeed:
    """Pieces of one length still to be cut from a material, racks used up first."""

    material: str
    length: int
    gross: int
    count: int


@dataclass(frozen=True, slots=True)
class Possible:
    """Complete sets from what is here, finished ones counted.

    ``variant`` is ``None`` for the wanted mix, and ``parts`` then says how many of each.
    ``stopped_by`` are the items that stand in the way of one more in the mix; empty when all
    wanted sets are possible. In the mix a variant that cannot go on is left out and the others
    go on: ``blocked`` says what each of them lacks, ``even_to`` how far the mix was whole.
    ``is_exact`` is false when steel could not be decided in the time.
    """

    variant: str | None
    sets: int
    finished: int
    parts: dict[str, int]
    stopped_by: tuple[str, ...]
    is_exact: bool
    blocked: dict[str, tuple[str, ...]] = field(default_factory=dict)
    even_to: int = 0


@dataclass(frozen=True, slots=True)
class RunsOut:
    """A bought item that does not last for all that is wanted.

    ``after_sets``: with everything else plentiful, so many sets in all can be complete.
    ``on_night`` is the first night it falls short although what is on order comes on its day,
    ``None`` when the nights do not get there; ``after_nights`` is how many nights pass before.
    ``is_covered``: what is on order comes in time for all that is wanted.
    """

    item: str
    after_sets: int
    after_nights: int | None
    on_night: str | None
    is_covered: bool = False


@dataclass(frozen=True, slots=True)
class Buy:
    """A line of the buy list.

    ``short`` is what is missing, ``quantity`` the same in whole packs (sticks for a
    material cut from sticks). ``needed_on`` is the first night short, ``order_by`` that
    day less the lead time and never after the last day the item can be had. ``is_late``: that
    day has passed. ``is_gone``: it can no longer be had at all. ``is_exact``: the sticks are
    proven fewest.
    """

    item: str
    supplier: str
    short: int
    packs: int
    quantity: int
    needed_on: str | None
    order_by: str | None
    is_late: bool
    is_one_chance: bool
    is_gone: bool
    is_exact: bool = True


@dataclass(frozen=True, slots=True)
class NeedsPlan:
    """The answer. ``possible`` has one line for each variant, ``mix`` one for all together."""

    problem: NeedsProblem
    needs: tuple[Need, ...]
    pieces: tuple[PieceNeed, ...]
    possible: tuple[Possible, ...]
    mix: Possible
    runs_out: tuple[RunsOut, ...]
    buy: tuple[Buy, ...]
    seconds: float

    @property
    def stops_first(self) -> RunsOut | None:
        """What runs out first; ``None`` when all that is wanted is possible or comes in time."""
        return next((line for line in self.runs_out if not line.is_covered), None)

    def need(self, item: str) -> Need:
        """The line of that item."""
        return next(need for need in self.needs if need.item == item)

    def breaches(self) -> tuple[str, ...]:
        """What does not add up when every number is recounted; empty when legal."""
        return breaches(self)

    def is_legal(self) -> bool:
        """Whether the recount agrees with every number."""
        return not self.breaches()

    def explain(self) -> tuple[str, ...]:
        """The answer in sentences."""
        return sentences(self)

    def to_json(self) -> Any:
        """Plain values, ready for ``json.dump``."""
        raw = strict.to_json(self)
        del raw["problem"]
        raw["explanation"] = list(self.explain())
        return raw
