"""The flow of a night at a moment: racks, stations and totals, from the book and the tallies."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import F, Sum

from inventory.ledger.queries import on_hand
from inventory.materials.models import Item
from workshops.flow.engine.racks import Fares, Rack, RackFlow, State, Step, fares_of, flow_of
from workshops.nights.clock import minutes, minutes_of
from workshops.nights.models import Night, Placing, RollLine
from workshops.season.queries import Progress, progress_of, winter_of
from workshops.stations.models import Operation

LOOK_BACK = 40  # minutes of tallies from which the pace is taken
LEAST = 10  # minutes: before that a tally says nothing of a pace


@dataclass(frozen=True, slots=True)
class StationFlow:
    """One station, how it fares in words, and how many hands are there now."""

    name: str
    hands: int
    fares: Fares
    says: str
    is_counted: bool

    @property
    def badge(self) -> str:
        """The mark of the state: open, short or closed."""
        if not self.hands:
            return "closed"
        return "open" if self.fares.state is State.RUNS else "short"

    @property
    def word(self) -> str:
        """The state in one word."""
        return self.fares.state.value if self.hands else "nobody"


@dataclass(frozen=True)
class FlowBoard:
    """All that the flow board shows."""

    night: Night
    racks: list[RackFlow]
    stations: list[StationFlow]
    sets: int
    pieces: int
    idle: int
    winter: Progress | None


def flow_board(night: Night, now: datetime) -> FlowBoard:
    """The flow of a night. 13 queries for any size."""
    rows = list(
        Operation.objects.filter(shop=night.shop, is_in_use=True, station__is_in_use=True)
        .select_related("station", "recipe__output")
        .prefetch_related("recipe__lines__item")
    )
    placed = _placed_now(night, now)
    hands = Counter(station for _, station in placed)
    steps, counted = _steps(night, rows, hands, now)
    items = list({row.recipe.output.pk: row.recipe.output for row in rows}.values())
    there = {each.item.pk: int(each.good) for each in on_hand(night.shop, items)}
    flows = flow_of((_rack(item, there) for item in items), steps)
    made = _made(night)
    winter = winter_of(night.shop, night.date)
    return FlowBoard(
        night=night,
        racks=[flows[str(item.pk)] for item in items if item.kind == Item.Kind.RACK],
        stations=_stations(rows, flows, steps, hands, counted),
        sets=sum(made.get(item.pk, 0) for item in items if item.kind == Item.Kind.SET),
        pieces=sum(made.values()),
        idle=_idle(night, {person for person, _ in placed}) if placed else 0,
        winter=progress_of(winter) if winter else None,
    )


def _rack(item: Item, there: dict[int, int]) -> Rack:
    return Rack(str(item.pk), item.name, there.get(item.pk, 0), item.rack_limit)


def _placed_now(night: Night, now: datetime) -> list[tuple[int, int]]:
    """(person, station) of the block that runs."""
    minute = minutes_of(now, night)
    rows = Placing.objects.filter(night=night).select_related("block")
    return [
        (row.person_id, row.station_id)
        for row in rows
        if minutes(row.block.starts) <= minute < minutes(row.block.ends)
    ]


def _idle(night: Night, placed: set[int]) -> int:
    inside = RollLine.objects.filter(night=night, out_at=None).values_list("person", flat=True)
    return len(set(inside) - placed)


def _steps(
    night: Night, rows: list[Operation], hands: Counter[int], now: datetime
) -> tuple[list[Step], set[int]]:
    """The operations at their pace: as counted lately, else as the hands there should make."""
    # Of the doors on, so that the first half hour is not taken for a slow one.
    since = max(now - timedelta(minutes=LOOK_BACK), now - _open_for(night, now))
    span = (now - since).total_seconds() / 60
    tallies = night.tallies.standing().filter(counted_at__gt=since)
    sums = dict(
        tallies.order_by().values("operation").annotate(made=Sum(F("good") + F("hold")))
        .values_list("operation", "made")
    )  # fmt: skip
    counted = {pk for pk in sums if span >= LEAST}
    shares = Counter(row.station_id for row in rows)
    steps = []
    for row in rows:
        plan = hands[row.station_id] / shares[row.station_id] / float(row.minutes_per_piece or 1)
        rate = sums[row.pk] / span if row.pk in counted else plan
        steps.append(
            Step(
                id=str(row.pk), station=str(row.station_id), makes=str(row.recipe.output_id),
                rate=rate if hands[row.station_id] else 0.0,
                uses={str(line.item_id): float(line.quantity) / row.recipe.quantity
                      for line in row.recipe.lines.all() if line.item.kind == Item.Kind.RACK},
            )
        )  # fmt: skip
    return steps, {row.station_id for row in rows if row.pk in counted}


def _open_for(night: Night, now: datetime) -> timedelta:
    return timedelta(minutes=max(1, minutes_of(now, night) - minutes(night.doors)))


def _made(night: Night) -> dict[int, int]:
    """Item -> good pieces counted tonight."""
    standing = night.tallies.standing().order_by()
    rows = standing.values("operation__recipe__output").annotate(made=Sum("good"))
    return {row["operation__recipe__output"]: row["made"] for row in rows}


def _stations(
    rows: list[Operation],
    flows: dict[str, RackFlow],
    steps: list[Step],
    hands: Counter[int],
    counted: set[int],
) -> list[StationFlow]:
    names = {row.station_id: row.station.name for row in rows}
    found = []
    for pk, name in names.items():
        fares = fares_of(str(pk), flows, steps)
        says = _says(fares, flows)
        found.append(StationFlow(name, hands[pk], fares, says, pk in counted))
    return found


def _says(fares: Fares, flows: dict[str, RackFlow]) -> str:
    if fares.state is State.RUNS or fares.minutes is None:
        return ""
    rack = flows[fares.rack].rack.name
    if fares.state is State.STARVES:
        return f"no {rack} left" if fares.minutes < 1 else f"{rack} for {fares.minutes:.0f} min"
    full = f"the rack of {rack} is full"
    return full if fares.minutes < 1 else f"{full} in {fares.minutes:.0f} min"
