"""Rows about places: one place at a time, crews at benches, learners, tools, the floor."""

from __future__ import annotations

from workshops.nights.engine.model import Model
from workshops.nights.engine.stations import Station, Tool


def one_place(model: Model) -> None:
    """Nobody stands in two places, the fire watch included."""
    for block in range(len(model.problem.blocks)):
        columns: dict[int, list[int]] = {}
        for station in model.problem.benches:
            for group, column in model.at(block, station.id):
                columns.setdefault(group, []).append(column)
        for group, column in model.watching(block):
            columns.setdefault(group, []).append(column)
        for group, places in columns.items():
            if len(places) > 1:
                model.programme.row(model.sum_of(places), upper=model.groups[group].size)


def crew_minimum(model: Model) -> None:
    """Every open bench has the people it needs."""
    for block, station in model.slots():
        row = model.sum_of(column for _, column in model.at(block, station.id))
        row[model.opens[block, station.id]] = -station.crew_least
        model.programme.row(row, lower=0)


def crew_maximum(model: Model) -> None:
    """No bench has more people than it holds, and nobody stands at a closed one.

    Notes
    -----
    For hot work also one row a person: it says nothing new of whole people, and spares the
    solver a search among half welders at half benches.
    """
    for block, station in model.slots():
        opened = model.opens[block, station.id]
        here = list(model.at(block, station.id))
        row = model.sum_of(column for _, column in here)
        model.programme.row({**row, opened: -float(station.crew_max)}, upper=0)
        for group, column in here if station.is_hot and station.crew_max > 1 else ():
            model.programme.row({column: 1.0, opened: -float(model.groups[group].size)}, upper=0)


def learner_ratio(model: Model) -> None:
    """Learners fit beside leads bench by bench, so that the plan can be dealt out.

    Notes
    -----
    With leads spread evenly, the learners that ``o`` benches take are concave in the leads:
    ``ratio`` each until a bench is full, then fewer. Two rows give that curve. Benches
    without a lead must reach their minimum from people who work alone: two rows again.
    """
    for block, station in model.slots():
        learners = model.learns.get((block, station.id), {})
        if learners:
            _fit_beside_leads(model, block, station)
            _reach_minimum(model, block, station)


def _fit_beside_leads(model: Model, block: int, station: Station) -> None:
    ratio, most = model.problem.learner_ratio(station), station.crew_max
    leads = _leads(model, block, station)
    learners = model.sum_of(model.learns[block, station.id].values())
    model.programme.row({**learners, **dict.fromkeys(leads, -float(ratio))}, upper=0)
    full = most // (1 + ratio)
    beyond = most - full - 1 - ratio * full
    row = {**learners, **dict.fromkeys(leads, -float(beyond))}
    row[model.opens[block, station.id]] = -float((ratio - beyond) * full)
    model.programme.row(row, upper=0)


def _reach_minimum(model: Model, block: int, station: Station) -> None:
    ratio, least = model.problem.learner_ratio(station), station.crew_least
    leads = set(_leads(model, block, station))
    alone = set(model.works[block, station.id].values()) - leads
    opened = model.opens[block, station.id]
    row = {**dict.fromkeys(sorted(alone), 1.0), **dict.fromkeys(sorted(leads), 1.0 + ratio)}
    model.programme.row({**row, opened: -float(least)}, lower=0)
    full = least // (1 + ratio)
    beyond = least - (1 + ratio) * full
    row.update(dict.fromkeys(sorted(leads), float(beyond)))
    model.programme.row({**row, opened: (1 + ratio - beyond) * full - float(least)}, lower=0)


def _leads(model: Model, block: int, station: Station) -> list[int]:
    works = model.works[block, station.id].items()
    return [column for group, column in works if station.id in model.groups[group].leads]


def tool_count(model: Model) -> None:
    """Open benches share the tools that the shop owns."""
    for tool in model.problem.tools:
        _share(model, tool, tool.count)


def out_of_service(model: Model) -> None:
    """Open benches share the tools that are in working order."""
    for tool in model.problem.tools:
        if tool.out_of_service:
            _share(model, tool, tool.count - tool.out_of_service)


def _share(model: Model, tool: Tool, usable: int) -> None:
    stations = model.problem.station
    for block in range(len(model.problem.blocks)):
        row = {
            column: float(stations[station].tools[tool.id])
            for (at, station), column in model.opens.items()
            if at == block and tool.id in stations[station].tools
        }
        if row:
            model.programme.row(row, upper=usable)


def floor_places(model: Model) -> None:
    """The floor holds so many people, the fire watch among them."""
    if model.problem.floor_places is None:
        return
    duty = model.problem.watch_station
    for block in range(len(model.problem.blocks)):
        row: dict[int, float] = {}
        for at, station in model.slots():
            if at == block and not station.is_off_floor:
                row.update(model.sum_of(column for _, column in model.at(block, station.id)))
        if duty is not None and not duty.is_off_floor:
            row.update(model.sum_of(column for _, column in model.watching(block)))
        if row:
            model.programme.row(row, upper=model.problem.floor_places)


def alarm_hand(model: Model) -> None:
    """Whoever asked for a hand at the alarm has somebody else in the room."""
    rooms = sorted({station.room for station in model.problem.benches})
    for block in range(len(model.problem.blocks)):
        for room in rooms:
            others, needing = _in_room(model, block, room)
            for column, size in needing.items():
                model.programme.row({**others, column: -1.0 / size}, lower=0)


def _in_room(model: Model, block: int, room: str) -> tuple[dict[int, float], dict[int, int]]:
    """Columns of those who can lend a hand in the room, and of those who need one with sizes."""
    others: dict[int, float] = {}
    needing: dict[int, int] = {}
    for at, station in model.slots():
        for group, column in (
            model.at(block, station.id) if (at, station.room) == (block, room) else ()
        ):
            if model.groups[group].needs_company:
                needing[column] = model.groups[group].size
            else:
                others[column] = 1.0
    others.update(model.sum_of(model.watches.get((block, room), {}).values()))
    return others, needing


def buddy(model: Model) -> None:
    """A hooded bench that asks for a buddy has an adult without a hood in its room."""
    for block, station in model.slots():
        if not (station.needs_buddy and station.is_hooded):
            continue
        row = {model.opens[block, station.id]: -1.0 / station.benches}
        for at, other in model.slots():
            if at == block and other.room == station.room and not other.is_hooded:
                here = model.at(block, other.id)
                row.update(model.sum_of(col for group, col in here if model.groups[group].is_adult))
        row.update(model.sum_of(model.watches.get((block, station.room), {}).values()))
        model.programme.row(row, lower=0)
