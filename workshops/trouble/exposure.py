"""Who worked where on a night, and who is asked the day after: weld fume and straw dust."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from inventory.deliveries.models import Received
from inventory.deliveries.queries import coated_of
from workshops.nights.clock import minutes_of, spell
from workshops.nights.models import Night
from workshops.nights.queries import names_in
from workshops.nights.worked import Stint, stints_of
from workshops.people.models import Person
from workshops.stations.models import BuildSheet, Station
from workshops.stations.queries import with_parts
from workshops.stations.welded import welded_stocks
from workshops.trouble.models import DayAfter, StoodThere

ARCS = (Station.Kind.WELD, Station.Kind.SPOT_WELD)


@dataclass(frozen=True, slots=True)
class Worked:
    """One person at one station: from and to as a clock shows them, and minutes in all."""

    person: int
    name: str
    station: Station
    spans: tuple[tuple[str, str], ...]
    minutes: int


@dataclass(frozen=True, slots=True)
class Exposed:
    """Somebody to ring the day after, why, and the latest answer; ``told`` is for the doctor."""

    person: int
    name: str
    did: str
    told: str
    last: DayAfter | None


def worked_where(night: Night) -> list[Worked]:
    """Who stood where and how long, by person. 5 queries; empty when nobody was placed.

    Those who were taken out when a station was closed are in it up to that moment.
    """
    spans: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for each in (*stints_of(night), *_taken_out(night)):
        spans.setdefault((each.person, each.station), []).append((each.start, each.end))
    if not spans:
        return []
    names = names_in(night.shop)
    stations = Station.objects.filter(shop=night.shop).in_bulk()
    found = [
        _worked(person, names[person], stations[station], _joined(rows))
        for (person, station), rows in spans.items()
    ]
    return sorted(found, key=lambda each: (each.name, each.spans))


def _taken_out(night: Night) -> Iterable[Stint]:
    rows = StoodThere.objects.filter(trouble__night=night, ends__isnull=False)
    for row in rows.select_related("trouble"):
        start, end = minutes_of(row.starts, night), minutes_of(row.ends, night)  # type: ignore[arg-type]
        if start < end and row.trouble.station_id:
            yield Stint(row.person_id, row.trouble.station_id, start, end)


def _joined(spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Stretches that touch or lie over one another as one."""
    found: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((start, end))
    return found


def _worked(person: int, name: str, station: Station, spans: list[tuple[int, int]]) -> Worked:
    told = tuple((spell(start), spell(end)) for start, end in spans)
    return Worked(person, name, station, told, sum(end - start for start, end in spans))


def to_ask(night: Night) -> list[Exposed]:
    """Who welded or handled straw, one line a person, with the latest answer. 12 queries at most.

    Empty when nobody did.
    """
    by_person: dict[int, list[Worked]] = {}
    for each in worked_where(night):
        if each.station.kind in ARCS or _is_straw(each.station):
            by_person.setdefault(each.person, []).append(each)
    if not by_person:
        return []
    zinc = zinc_in_the_shop(night)
    last: dict[int, DayAfter] = {}
    for row in DayAfter.objects.filter(night=night).order_by("at", "pk"):
        last[row.person_id] = row
    return [
        Exposed(person, rows[0].name, *_words(rows, zinc), last.get(person))
        for person, rows in by_person.items()
    ]


def _is_straw(station: Station) -> bool:
    return station.is_straw or station.kind == Station.Kind.FILL


def _words(rows: list[Worked], zinc: str) -> tuple[str, str]:
    """What the person did, and what a doctor is to be told."""
    arc = sum(row.minutes for row in rows if row.station.kind in ARCS)
    straw = sum(row.minutes for row in rows if _is_straw(row.station))
    did = []
    if arc:
        did.append(f"welded for {arc} minutes" + (f", with {zinc} in the shop" if zinc else ""))
    if straw:
        did.append(f"handled straw or hay for {straw} minutes")
    told = []
    if arc:
        metal = "zinc-coated steel may have been welded" if zinc else "steel was welded"
        told.append(f"{metal} for {arc} minutes: fever 3 to 10 hours later is known of zinc fume")
    if straw:
        told.append(
            f"straw or hay dust for {straw} minutes: illness 4 to 6 hours later is known of mould"
        )
    return " and ".join(did), f"See a doctor, and say: {'; '.join(told)}."


def zinc_in_the_shop(night: Night) -> str:
    """Names of galvanised stock that welded parts are cut from; empty when there is none.

    6 queries; 1 when nothing came galvanised.
    """
    coated = [
        metal for metal in coated_of(night.shop)
        if any(row.finish == Received.Finish.GALVANISED for row in metal.came)
    ]  # fmt: skip
    if not coated:
        return ""
    rows = BuildSheet.objects.filter(shop=night.shop, status=BuildSheet.Status.IN_FORCE)
    welded = {item for sheet in with_parts(rows) for item in welded_stocks(sheet)}
    return ", ".join(f"galvanised {metal.item}" for metal in coated if metal.item.pk in welded)


def person_of(night: Night, pk: int) -> Person | None:
    """Somebody on the night's list to ask, or ``None``."""
    if pk not in {each.person for each in to_ask(night)}:
        return None
    return Person.objects.filter(shop=night.shop, pk=pk).first()
