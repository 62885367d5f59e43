"""What stands at the end of a night: steps, racks, faults, short items, who is in, the fire."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.db.models import Q

from inventory.ledger.queries import below_level, on_hand
from inventory.materials.models import Item
from inventory.needs.queries import latest_needs
from workshops.club.models import Club
from workshops.common.words import stopped
from workshops.lockup.models import RackCount, StepTick
from workshops.nights.models import Night
from workshops.nights.permit.queries import HotWork, hot_work_of
from workshops.nights.queries import in_the_building
from workshops.stations.models import Station, Tool

Step = StepTick.Step
AT_STATIONS = (Step.STOP, Step.COUNT, Step.TAG, Step.TEAR_DOWN)
OF_THE_SHOP = (Step.WASTE, Step.HEAT, Step.DOORS)
SHORT_SHOWN = 6


@dataclass(frozen=True, slots=True)
class ToDo:
    """One step with its latest tick; none: nobody said anything yet."""

    step: str
    station: Station | None
    tick: StepTick | None

    @property
    def key(self) -> str:
        """Its name in the form."""
        return f"{self.station.pk if self.station else 'shop'}-{self.step}"

    @property
    def words(self) -> str:
        """The step in words."""
        return str(Step(self.step).label)


@dataclass(frozen=True, slots=True)
class Rack:
    """One half-made or finished item: the book's count, and the last count by hand."""

    item: Item
    good: int
    hold: int
    counted: RackCount | None


@dataclass(frozen=True)
class CloseOut:
    """Everything the page of the close shows."""

    night: Night
    stations: tuple[tuple[Station, tuple[ToDo, ...]], ...]
    shop_steps: tuple[ToDo, ...]
    racks: tuple[Rack, ...]
    faults: tuple[Tool, ...]
    short: tuple[str, ...]
    inside: tuple[str, ...]
    ring: str
    fire: HotWork

    @property
    def to_do(self) -> list[ToDo]:
        """Every step, station by station."""
        return [*(each for _, steps in self.stations for each in steps), *self.shop_steps]

    @property
    def unsaid(self) -> list[ToDo]:
        """Steps of which nobody said anything."""
        return [each for each in self.to_do if each.tick is None]

    @property
    def stops(self) -> list[str]:
        """What keeps the night open."""
        found = [stopped(f"Still in the building: {', '.join(self.inside)}")] if self.inside else []
        return found + ([self.fire.owes] if self.fire.owes else [])


def close_out_of(night: Night) -> CloseOut:
    """The close-out of a night, in a fixed number of queries."""
    latest = {(row.station_id, row.step): row for row in StepTick.objects.filter(night=night)}
    shop = night.shop

    def steps(station: Station | None, wanted: tuple[Step, ...]) -> tuple[ToDo, ...]:
        pk = station.pk if station else None
        return tuple(ToDo(step, station, latest.get((pk, step.value))) for step in wanted)

    return CloseOut(
        night=night,
        stations=tuple((row, steps(row, AT_STATIONS)) for row in stations_of(night)),
        shop_steps=steps(None, OF_THE_SHOP),
        racks=racks_of(night),
        faults=tuple(Tool.objects.filter(shop=shop, out_of_service__gt=0)),
        short=short_of(night),
        inside=tuple(line.person.short_name for line in in_the_building(night)),
        ring=Club.objects.filter(shop=shop).values_list("contact", flat=True).first() or "",
        fire=hot_work_of(night),
    )


def stations_of(night: Night) -> list[Station]:
    """The stations that were open tonight: somebody stood there, or something was counted."""
    stood = Q(placings__night=night) | Q(operations__tallies__night=night)
    rows = Station.objects.filter(stood, shop=night.shop)
    return list(rows.exclude(kind=Station.Kind.FIRE_WATCH).distinct())


def racks_of(night: Night) -> tuple[Rack, ...]:
    """What is left of everything half-made or complete, with the last count by hand."""
    counts = {row.item_id: row for row in RackCount.objects.filter(night=night)}
    rows = on_hand(night.shop)
    wanted = [row for row in rows if row.item.kind in (Item.Kind.RACK, Item.Kind.SET)]
    return tuple(
        Rack(row.item, int(row.good), int(row.hold), counts.get(row.item.pk)) for row in wanted
    )


def short_of(night: Night) -> tuple[str, ...]:
    """What runs out first, then what is below its level."""
    needs, found = latest_needs(night.shop), []
    first = needs.stops_first if needs else None
    if first:
        found.append(f"{first.item} runs out first, after {first.after_sets} more sets")
    found += [f"{item} is below its level" for item in below_level(night.shop)[:SHORT_SHOWN]]
    return tuple(found)


def as_found(close: CloseOut) -> list[dict[str, Any]]:
    """What the site knows at the close, as the hand-over keeps it."""
    undone = [
        f"{each.station or 'Shop'}: {each.words}: {_why(each)}"
        for each in close.to_do
        if each.tick is None or not each.tick.is_done
    ]
    return [
        {"title": title, "lines": lines}
        for title, lines in (
            ("Not done", undone),
            ("On the racks", [_rack(row) for row in close.racks if row.good or row.hold]),
            ("Out of service", [f"{tool.name}: {tool.fault}" for tool in close.faults]),
            ("Short", list(close.short)),
            ("Hot work", _fire(close.fire)),
        )
        if lines
    ]


def _why(each: ToDo) -> str:
    return f"{each.tick.because} ({each.tick.ticked_by})" if each.tick else "nobody said"


def _rack(row: Rack) -> str:
    said = f"{row.good} {row.item}" + (f", {row.hold} on hold and tagged" if row.hold else "")
    if row.counted and row.counted.counted != row.counted.booked:
        said += f"; counted {row.counted.counted} by hand when the book said {row.counted.booked}"
    return said


def _fire(fire: HotWork) -> list[str]:
    if fire.permit is None or fire.permit.watch_ended_at is None:
        return []
    at = fire.permit.watch_ended_at.astimezone(fire.night.shop.zone)
    return [f"Watch ended {at:%H:%M}, signed {fire.permit.watch_signed_by}"]
