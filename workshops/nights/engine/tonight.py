"""The night cut down to one station: can it open at all?"""

from __future__ import annotations

from dataclasses import replace

from inventory.engines.stop import Seconds
from workshops.nights.engine.assembly import assemble
from workshops.nights.engine.model import Model
from workshops.nights.engine.model_gates import NOTHING
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.stations import Station

ENOUGH = Seconds(2)


def only_for(problem: Problem, station: Station) -> Problem:
    """The night with the station, its fire watch, possible buddies and what is fixed by hand."""
    fixed = {lock.station for lock in problem.locks}
    needs_eyes = station.needs_buddy and station.is_hooded
    needs_hand = any(person.needs_company for person in problem.people)
    kept = tuple(
        each
        for each in problem.stations
        if each.id == station.id
        or each.is_fire_watch
        or each.id in fixed
        or (needs_eyes and each.room == station.room and not each.is_hooded)
        or (needs_hand and each.room == station.room)
    )
    return replace(
        problem,
        stations=kept,
        # Whether the station can open does not hang on what it makes.
        operations=(),
        pieces=(),
        materials=(),
        sets=(),
        previous=(),
    )


def opened_somewhere(small: Problem, station: str, off: frozenset[str] = NOTHING) -> bool:
    """Whether a bench of the station can be open in some block, without the rules in ``off``."""
    model = assemble(small, off, is_making=False)
    return require_open(model, station) and model.programme.solve(ENOUGH).has_values()


def require_open(model: Model, station: str) -> bool:
    """Ask for an open bench in some block; whether there is any that could be."""
    benches = [column for (_, name), column in model.opens.items() if name == station]
    model.programme.row(model.sum_of(benches), lower=1)
    return bool(benches)
