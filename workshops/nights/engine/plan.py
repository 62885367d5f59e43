"""The placing of one night, and everything a person may ask about it."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from enum import Enum
from functools import cached_property

from workshops.nights.engine.board import Board, Breach
from workshops.nights.engine.output import Output
from workshops.nights.engine.placings import Placing, Watching
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.rules import breaches_of

ROUNDING = 1e-5  # points of worth below which the solver's last digits are meant


class Proof(Enum):
    """What is known about how good a plan is."""

    BEST = "proven best"  # no plan makes more tonight, within the gap of the params
    GAP = "within a stated gap"
    FIRST_COME = "first come, first placed"  # nothing better was found in the time


@dataclass(frozen=True)
class Plan:
    """Who stands where in which block, what that makes, and how good it is.

    Parameters
    ----------
    output
        What the plan makes; its ``worth`` is the objective.
    first_come
        Worth of what the same people make when placed in the order they come.
    bound
        The most that any plan can make tonight, in points of worth.
    tolerance
        Gap up to which the plan counts as proven best.
    is_searched
        False: nothing better than first come, first placed was found in the time.
    """

    problem: Problem
    placings: tuple[Placing, ...] = ()
    watch: tuple[Watching, ...] = ()
    output: Output = field(default_factory=Output)
    first_come: float = 0.0
    bound: float = 0.0
    tolerance: float = 0.001
    is_searched: bool = True
    seconds: float = 0.0

    @property
    def gap(self) -> float:
        """Share by which some other plan might make more tonight; 0: none can."""
        over = self.bound - self.output.worth
        if over <= ROUNDING:
            return 0.0
        return over / self.output.worth if self.output.worth > ROUNDING else math.inf

    @property
    def proof(self) -> Proof:
        """What is known about how good the plan is."""
        if self.gap <= self.tolerance:
            return Proof.BEST
        return Proof.GAP if self.is_searched else Proof.FIRST_COME

    @cached_property
    def breaches(self) -> tuple[Breach, ...]:
        """Every hard rule that the plan breaks, by the rules and not by the solver."""
        return breaches_of(self.board)

    @cached_property
    def board(self) -> Board:
        """The plan laid out for the rules."""
        return Board(self.problem, self.placings, self.watch, self.output.made)

    def is_legal(self) -> bool:
        """Whether no rule stops this."""
        return not self.breaches
