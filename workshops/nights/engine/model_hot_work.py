"""Rows about sparks: the fire watch of each room from the first to its end, and the straw."""

from __future__ import annotations

from workshops.nights.engine.model import Model, Slot

UNWATCHED_COST = 1e4  # points a block; only a watch owed for earlier sparks can go unkept


def watch_columns(model: Model) -> None:
    """One column for sparks in a room and block, one for each group that could watch them."""
    problem = model.problem
    rooms = {station.room for _, station in model.slots() if station.is_hot}
    for room in sorted(rooms | set(problem.before.sparks)):
        for block in range(len(problem.blocks)):
            model.watches[block, room] = {
                number: model.programme.binary()
                for number, group in enumerate(model.groups)
                if group.may_watch and block in group.blocks
            }
            if any(at == block and s.is_hot and s.room == room for at, s in model.slots()):
                model.hot[block, room] = model.programme.binary()


def hot_blocks(model: Model) -> None:
    """Sparks are said to fly where a hot bench is open, and only there."""
    benches: dict[Slot, list[int]] = {}
    for block, station in model.slots():
        if station.is_hot:
            row = {model.opens[block, station.id]: 1.0}
            row[model.hot[block, station.room]] = -float(station.benches)
            model.programme.row(row, upper=0)
            benches.setdefault((block, station.room), []).append(model.opens[block, station.id])
    for slot, opens in benches.items():
        model.programme.row({**model.sum_of(opens, -1.0), model.hot[slot]: 1.0}, upper=0)


def fire_watch(model: Model) -> None:
    """Sparks are watched in their block and on, through breaks, to the end of the watch."""
    watch = model.problem.club.watch_minutes
    for (block, room), hot in model.hot.items():
        end = model.problem.blocks[block].end + watch
        for later in range(block, len(model.problem.blocks)):
            if later == block or model.problem.blocks[later].start < end:
                row = _watchers(model, later, room, end)
                model.programme.row({**row, hot: -1.0}, lower=0)
    for room in sorted({room for _, room in model.watches}):
        _watch_earlier_sparks(model, room)
        _watch_between(model, room)
    for (block, room), columns in model.watches.items():
        if columns:
            model.programme.row(model.sum_of(columns.values()), upper=1)
            _no_watch_for_nothing(model, block, room)


def _no_watch_for_nothing(model: Model, block: int, room: str) -> None:
    """Whoever watches, watches something: else a watch would be a buddy who is not there.

    The watch is on from the first sparks to its end after the last: sparks must have begun,
    and either the watch after them lasts into the block or more sparks follow.
    """
    duty, spans = model.problem.watch_station, model.problem.blocks
    if any(duty and (at.block, at.station) == (block, duty.id) for at in model.problem.locks):
        return
    minutes, owed = model.problem.club.watch_minutes, model.problem.before.sparks.get(room)
    hot = {at: column for (at, name), column in model.hot.items() if name == room}
    watching = model.sum_of(model.watches[block, room].values())
    begun = {column: -1.0 for at, column in hot.items() if at <= block}
    lasting = {
        column: -1.0
        for at, column in hot.items()
        if at >= block or spans[block].start < spans[at].end + minutes
    }
    is_owed = owed is not None and spans[block].start < owed + minutes
    model.programme.row({**watching, **begun}, upper=float(owed is not None))
    model.programme.row({**watching, **lasting}, upper=float(is_owed))


def _watchers(model: Model, block: int, room: str, end: int) -> dict[int, float]:
    """Columns of those who could watch in the block, and on to the next block or the end."""
    spans = model.problem.blocks
    is_last = block + 1 == len(spans)
    until = end if is_last else min(end, spans[block + 1].start)
    start, until = spans[block].start, max(until, spans[block].end)
    ignored = "presence" in model.off
    return {
        column: 1.0
        for number, column in model.watches[block, room].items()
        if ignored or model.groups[number].first.is_present(start, until)
    }


def _watch_earlier_sparks(model: Model, room: str) -> None:
    """A watch owed since before the first block. Not kept, it is a breach that the plan shows."""
    if room not in model.problem.before.sparks:
        return
    end = model.problem.before.sparks[room] + model.problem.club.watch_minutes
    for block, span in enumerate(model.problem.blocks):
        if span.start < end:
            unkept = model.programme.column(-UNWATCHED_COST, upper=1.0)
            row = _watchers(model, block, room, end)
            model.programme.row({**row, unkept: 1.0}, lower=1)


def _watch_between(model: Model, room: str) -> None:
    """Between two hot blocks the watch goes on, however short the club's watch is."""
    owed = float(room in model.problem.before.sparks)
    for block in range(len(model.problem.blocks) - 1):
        earlier = [col for (b, r), col in model.hot.items() if r == room and b <= block]
        later = [col for (b, r), col in model.hot.items() if r == room and b > block]
        if not later or not (earlier or owed):
            continue
        begun = model.programme.column(lower=owed, upper=1.0)
        goes_on = model.programme.column(upper=1.0)
        for hot in earlier:
            model.programme.row({begun: 1.0, hot: -1.0}, lower=0)
        for hot in later:
            model.programme.row({goes_on: 1.0, hot: -1.0}, lower=0)
        row = _watchers(model, block, room, model.problem.blocks[block + 1].start)
        model.programme.row({**row, begun: -1.0, goes_on: -1.0}, lower=-1)


def hot_and_straw(model: Model) -> None:
    """A room has sparks or straw in one night, never both."""
    hot_rooms = {room for _, room in model.hot}
    straw = [(block, station) for block, station in model.slots() if station.has_straw]
    for room in sorted(hot_rooms & {station.room for _, station in straw}):
        is_steel = model.programme.binary()
        for (_, at), hot in model.hot.items():
            if at == room:
                model.programme.row({hot: 1.0, is_steel: -1.0}, upper=0)
        for block, station in straw:
            if station.room == room:
                row = {model.opens[block, station.id]: 1.0, is_steel: float(station.benches)}
                model.programme.row(row, upper=station.benches)
