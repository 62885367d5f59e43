"""The placing of one night, and everything a person may ask about it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from enum import Enum
from functools import cached_property
from typing import Any

from inventory.engines import strict
from workshops.nights.engine.board import Board, Breach, spell_minute, spell_names
from workshops.nights.engine.model_turns import fair_share
from workshops.nights.engine.output import Output
from workshops.nights.engine.placings import Lock, Placing, Role, Watching
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.reasons import Idle, Reasons
from workshops.nights.engine.rules import breaches_of
from workshops.nights.engine.why import Closed, closed_stations

VERSION = 1  # of the plan's plain form
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
    first_come, first_come_output
        Worth of what the same people make when placed in the order they come, and what that is.
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
    first_come_output: Output = field(default_factory=Output)
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

    @cached_property
    def closed(self) -> tuple[Closed, ...]:
        """Stations at which nobody is placed all night, each with the reason."""
        return closed_stations(self.board, self.output)

    @property
    def idle(self) -> tuple[Idle, ...]:
        """People who are here in a block without a place, each with the reason."""
        return self._reasons.idle

    def why(self, placing: Placing) -> str:
        """Why somebody stands there, in one sentence."""
        return self._reasons.why(placing)

    def why_watching(self, watching: Watching) -> str:
        """Why somebody keeps the watch then, in one sentence."""
        return self._reasons.why_watching(watching)

    @property
    def few(self) -> str:
        """How a handful of people work, in one or two sentences; empty when enough are here."""
        return _few(self.problem, self.placings, self.output)

    @cached_property
    def _reasons(self) -> Reasons:
        return Reasons(self.board, self.output)

    @cached_property
    def changed(self) -> tuple[Lock, ...]:
        """Placings of the plan people knew that this one does not keep, of people still here."""
        duty = self.problem.watch_station
        now = {(each.person, each.block, each.station) for each in self.placings}
        now |= {(each.person, each.block, duty.id) for each in self.watch if duty}
        return tuple(
            each
            for each in self.problem.previous
            if each.person in self.problem.person
            and self.problem.person[each.person].present
            and (each.person, each.block, each.station) not in now
        )

    def as_known(self) -> tuple[Lock, ...]:
        """This plan as the ``previous`` of a re-plan."""
        duty = self.problem.watch_station
        known = [Lock(each.person, each.block, each.station, each.role) for each in self.placings]
        known += [
            Lock(each.person, each.block, duty.id, Role.WATCHES) for each in self.watch if duty
        ]
        return tuple(known)

    def explain(self) -> tuple[str, ...]:
        """The plan in sentences: what it makes, how good it is, what stays closed and why."""
        return (
            *_headline(self),
            *(f"{self.problem.station[each.station].name}: {each.reason}" for each in self.closed),
            *(breach.message for breach in self.breaches),
        )

    def to_json(self) -> dict[str, Any]:
        """Plain values, ready for ``json.dump``; the problem is kept apart from them."""
        return {
            "version": VERSION,
            "proof": self.proof.value,
            "worth": self.output.worth,
            "bound": self.bound if math.isfinite(self.bound) else None,
            "gap": self.gap if math.isfinite(self.gap) else None,
            "first_come": self.first_come,
            "first_come_output": strict.to_json(self.first_come_output),
            "seconds": round(self.seconds, 3),
            "output": strict.to_json(self.output),
            "placings": [{**strict.to_json(p), "why": self.why(p)} for p in self.placings],
            "watch": [{**strict.to_json(w), "why": self.why_watching(w)} for w in self.watch],
            "closed": strict.to_json(self.closed),
            "idle": strict.to_json(self.idle),
            "changed": strict.to_json(self.changed),
            "breaches": strict.to_json(self.breaches),
            "few": self.few,
            "sentences": list(self.explain()),
        }


def _few(problem: Problem, placings: Iterable[Placing], output: Output) -> str:
    """How a handful of people work: together, station by station; empty when enough are here."""
    here = [each for each in problem.people if each.present]
    at_work = {each.station for each in problem.operations}
    if not here or 2 * len(here) > len(at_work):
        return ""
    parts = []
    for block, span in enumerate(problem.blocks):
        names = {problem.station[each.station].name for each in placings if each.block == block}
        if names:
            parts.append(f"{spell_minute(span.start)} {spell_names(sorted(names))}")
    if not parts:
        return ""
    count = f"{len(here)} {'person is' if len(here) == 1 else 'people are'} here"
    return (
        f"{count} for {len(at_work)} stations with work, so they go together: "
        f"{'; '.join(parts)}. {_few_make(problem, output)}"
    )


def _few_make(problem: Problem, output: Output) -> str:
    added = sum(n - output.sets_before.get(kind, 0.0) for kind, n in output.sets.items())
    sets = int(added + ROUNDING)
    if sets:
        return f"That completes {sets} set{'' if sets == 1 else 's'}."
    made = [
        f"{each.name} {int(runs)}"
        for each in problem.operations
        if (runs := sum(output.made.get(each.id, ())) * each.makes_count + ROUNDING) >= 1
    ]
    if not made:
        return "Nothing can be finished with what is in store."
    what = spell_names(made)
    return f"No set can be completed tonight; they make what is worth most to the winter: {what}."


def _turns(plan: Plan) -> Iterator[str]:
    """That the floor is too small for all, and what taking turns may cost."""
    problem = plan.problem
    if not problem.short_blocks or problem.previous:
        return
    share = fair_share(problem)
    times = {1: "once", 2: "twice"}.get(share, f"{share} times")
    yield (
        f"The floor holds {problem.floor_places}: the others have jobs off it, in turns, at most "
        f"{times} each where tonight's work allows it."
    )


def _headline(plan: Plan) -> Iterator[str]:
    people = {each.person for each in plan.placings} | {each.person for each in plan.watch}
    stations = {each.station for each in plan.placings}
    yield f"{len(people)} people placed at {len(stations)} stations."
    if plan.few:
        yield plan.few
    yield from _turns(plan)
    for kind in plan.problem.sets:
        before, after = plan.output.sets_before.get(kind.id, 0), plan.output.sets.get(kind.id, 0)
        name = kind.name
        yield f"{name}: about {after - before:.0f} more complete, {after:.0f} in all."
    if plan.proof is Proof.BEST:
        yield f"Proven best: no plan makes {plan.tolerance:.1%} more tonight."
    elif math.isfinite(plan.gap):
        yield f"Another plan might make up to {plan.gap:.1%} more tonight; none better was found."
    else:
        yield "How much more another plan could make is not known; the time ran out."
    more = plan.output.worth - plan.first_come
    if plan.first_come > ROUNDING and more > ROUNDING:
        yield f"That is {more / plan.first_come:.0%} more than first come, first placed."
    if plan.problem.previous:
        yield f"{len(plan.changed)} of {len(plan.problem.previous)} known placings changed."
