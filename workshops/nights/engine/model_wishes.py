"""The softer aims: somebody placed at all, wishes, learning, a change from last time, few moves."""

from __future__ import annotations

from workshops.nights.engine.alike import Group
from workshops.nights.engine.model import Model, Slot
from workshops.nights.engine.params import PlacingParams
from workshops.nights.engine.placings import Lock


def wishes(model: Model, params: PlacingParams) -> dict[int, float]:
    """Points of the softer aims by column; adds the columns and rows that some of them need."""
    points: dict[int, float] = {}
    for block, station in model.slots():
        for number, column in model.at(block, station.id):
            points[column] = _points(model.groups[number], station.id, params)
        for column in model.learns.get((block, station.id), {}).values():
            points[column] += params.learning
        if station.wanted:
            filled = model.programme.column(upper=station.wanted)
            row = model.sum_of(column for _, column in model.at(block, station.id))
            model.programme.row({**row, filled: -1.0}, lower=0)
            points[filled] = params.wanted
    # a spare watch does nothing: nobody stands about with an extinguisher for no sparks
    for columns in model.watches.values():
        points.update(dict.fromkeys(columns.values(), -0.1))
    return points


def _points(group: Group, station: str, params: PlacingParams) -> float:
    person = group.first
    points = params.placed
    if station in person.likes:
        points += params.wish
    if person.last_stations and station not in person.last_stations:
        points += params.rotation
    return points


def kept_placings(model: Model) -> list[int]:
    """Columns that count placings of the plan people know which this plan keeps.

    Whoever is counted with others of a group stays where they were as far as the group has
    places there: the dealing sees to it.
    """
    where: dict[tuple[str, int], Lock] = {(p.person, p.block): p for p in model.problem.previous}
    counts: dict[tuple[int, Slot], int] = {}
    for number, group in enumerate(model.groups):
        for block in range(len(model.problem.blocks)):
            for person in group.members:
                known = where.get((person.id, block))
                if known:
                    key = (number, (block, known.station))
                    counts[key] = counts.get(key, 0) + 1
    kept = []
    for (number, slot), count in counts.items():
        columns = _columns(model, number, slot)
        if columns:
            kept.append(model.programme.column(upper=count))
            model.programme.row({**model.sum_of(columns), kept[-1]: -1.0}, lower=0)
    return kept


def _columns(model: Model, number: int, slot: Slot) -> list[int]:
    duty = model.problem.watch_station
    if duty is not None and slot[1] == duty.id:
        watches = [cols for (block, _), cols in model.watches.items() if block == slot[0]]
        return [columns[number] for columns in watches if number in columns]
    return [column for group, column in model.at(*slot) if group == number]
