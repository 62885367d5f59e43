"""Turns off the floor, where it holds fewer than come: nobody is off it twice before all were once.

Off the floor is a job there (sorting, labels, the kitchen) or, where those run out, no place.
"""

from __future__ import annotations

from workshops.nights.engine.model import Model
from workshops.nights.engine.people import Person
from workshops.nights.engine.problem import Problem


def fair_share(problem: Problem) -> int:
    """How often each is off the floor at most, when all take turns; 0 where it holds everybody."""
    blocks, most = problem.short_blocks, problem.floor_places
    if not blocks or most is None:
        return 0
    here = [_here(problem, block) for block in blocks]
    people = {person.id for each in here for person in each}
    off = sum(len(each) - most for each in here)
    # Rounded up: 39 turns among 31 are two for some.
    return -(-off // len(people))


def _here(problem: Problem, block: int) -> list[Person]:
    span = problem.blocks[block]
    return [each for each in problem.people if each.is_present(span.start, span.end)]


def turns(model: Model, weight: float) -> dict[int, float]:
    """Points against whoever is off the floor more often than their share; adds the columns."""
    problem, share = model.problem, fair_share(model.problem)
    points: dict[int, float] = {}
    for number, group in enumerate(model.groups) if share else ():
        row: dict[int, float] = {}
        blocks = [block for block in problem.short_blocks if block in group.blocks]
        for block in blocks:
            row.update(model.sum_of(_on_floor(model, number, block)))
        if len(blocks) <= share:
            continue
        # On the floor, and over the share, at least as often as the rest of the blocks.
        over = model.programme.column(upper=group.size * len(blocks))
        least = group.size * (len(blocks) - share)
        model.programme.row({**row, over: 1.0}, lower=least)
        points[over] = -weight
    return points


def _on_floor(model: Model, number: int, block: int) -> list[int]:
    found = []
    for at, station in model.slots():
        if at == block and not station.is_off_floor:
            found += [column for group, column in model.at(block, station.id) if group == number]
    duty = model.problem.watch_station
    if duty is not None and not duty.is_off_floor:
        found += [column for group, column in model.watching(block) if group == number]
    return found
