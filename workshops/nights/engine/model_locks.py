"""Rows about what was fixed by hand."""

from __future__ import annotations

from workshops.nights.engine.model import Model
from workshops.nights.engine.placings import Lock


def locks(model: Model) -> None:
    """Every placing fixed by hand is in the plan; a person fixed is in a group alone."""
    numbers = {group.first.id: number for number, group in enumerate(model.groups)}
    for lock in model.problem.locks:
        number = numbers.get(lock.person)
        columns = [] if number is None else lock_columns(model, lock, number)
        # without a column nothing can fulfil it: the row says so
        model.programme.row(model.sum_of(columns), lower=1)


def lock_columns(model: Model, lock: Lock, number: int) -> list[int]:
    """Columns of which one has to be taken for the lock to be kept."""
    if model.problem.station[lock.station].is_fire_watch:
        watches = [cols for (block, _), cols in model.watches.items() if block == lock.block]
        return [columns[number] for columns in watches if number in columns]
    slot = (lock.block, lock.station)
    works, learns = model.works.get(slot, {}), model.learns.get(slot, {})
    if lock.role is not None:
        works, learns = ({}, learns) if lock.role.is_learning else (works, {})
    return [columns[number] for columns in (works, learns) if number in columns]
