"""The placing of one night, and everything a person may ask about it."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from workshops.nights.engine.placings import Placing, Watching
from workshops.nights.engine.problem import Problem


class Proof(Enum):
    """What is known about how good a plan is."""

    BEST = "proven best"  # no plan makes more tonight, within the gap of the params
    GAP = "within a stated gap"
    FIRST_COME = "first come, first placed"  # nothing better was found in the time


@dataclass(frozen=True, slots=True)
class Output:
    """What a placing is expected to make.

    Parameters
    ----------
    made
        Operation id -> expected runs in each block.
    racks
        Piece id -> expected on the rack at the end of the night.
    sets
        Set kind id -> expected complete sets standing on the racks at the end.
    sets_before
        The same at the start.
    worth
        Points added tonight: what stands on the racks at the end less what stood there.
    """

    made: dict[str, tuple[float, ...]] = field(default_factory=dict)
    racks: dict[str, float] = field(default_factory=dict)
    sets: dict[str, float] = field(default_factory=dict)
    sets_before: dict[str, float] = field(default_factory=dict)
    worth: float = 0.0


@dataclass(frozen=True)
class Plan:
    """Who stands where in which block, what that makes, and how good it is.

    ``worth`` of the output is the objective; ``bound`` is the most that any plan can make.
    """

    problem: Problem
    placings: tuple[Placing, ...] = ()
    watch: tuple[Watching, ...] = ()
    output: Output = field(default_factory=Output)
    proof: Proof = Proof.BEST
    bound: float = 0.0
    seconds: float = 0.0
