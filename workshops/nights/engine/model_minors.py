"""Rows about minors: adults free to look after them, their guardians, their hours."""

from __future__ import annotations

from workshops.nights.engine.model import Model


def minor_hours(model: Model) -> None:
    """A minor works no longer in one night than the club allows."""
    most = model.problem.club.minor_max_minutes
    for number, group in enumerate(model.groups):
        if group.is_adult or most is None:
            continue
        row: dict[int, float] = {}
        for block, span in enumerate(model.problem.blocks):
            row.update(dict.fromkeys(_places(model, number, block), float(span.minutes)))
        if row:
            model.programme.row(row, upper=most - group.first.minutes_worked)


def _places(model: Model, number: int, block: int) -> list[int]:
    """Columns in which the group stands somewhere in the block."""
    slots = (*model.works.items(), *model.learns.items())
    here = [columns for (at, _), columns in slots if at == block]
    return [columns[number] for columns in here if number in columns]


def supervision(model: Model) -> None:
    """Enough adults free in every block with a minor at work, and one of their guardians."""
    minors = [number for number, group in enumerate(model.groups) if not group.is_adult]
    for block in range(len(model.problem.blocks)) if minors else ():
        at_work = {number: _places(model, number, block) for number in minors}
        _ratio(model, block, [column for columns in at_work.values() for column in columns])
        for number, columns in at_work.items() if model.problem.club.guardian_required else ():
            _guardian(model, block, model.groups[number].first.guardians, columns)


def _ratio(model: Model, block: int, minors: list[int]) -> None:
    span, most = model.problem.blocks[block], model.problem.club.minors_per_adult
    most = len(model.problem.people) if most is None else most
    adults = [
        person
        for person in model.problem.people
        if model.problem.is_adult(person)
        and person.is_present(span.start, span.end)
        and block not in person.breaks
    ]
    row = model.sum_of(minors)
    for number, column in _unfree(model, block):
        if model.groups[number].is_adult:
            row[column] = float(most)
    if minors:
        model.programme.row(row, upper=most * len(adults))


def _guardian(model: Model, block: int, guardians: tuple[str, ...], columns: list[int]) -> None:
    span = model.problem.blocks[block]
    here = {
        each
        for each in guardians
        if model.problem.person[each].is_present(span.start, span.end)
        and block not in model.problem.person[each].breaks
    }
    row = model.sum_of(columns)
    for number, column in _unfree(model, block):
        if model.groups[number].first.id in here:
            row[column] = 1.0
    if columns:
        model.programme.row(row, upper=len(here))


def _unfree(model: Model, block: int) -> list[tuple[int, int]]:
    """(group, column) of everybody behind a hood or on the fire watch in the block."""
    hooded = [s.id for at, s in model.slots() if at == block and s.is_hooded]
    behind = [pair for station in hooded for pair in model.at(block, station)]
    return [*behind, *model.watching(block)]
