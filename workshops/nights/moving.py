"""Where one person may go in one block, asked of the gate before anything is moved."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from workshops.nights.loading import load
from workshops.nights.models import Block, Night
from workshops.nights.translate import closed_because
from workshops.people.gate import Doing, Register
from workshops.people.models import Person
from workshops.people.names import short_names
from workshops.stations.models import Level, Station


@dataclass(frozen=True, slots=True)
class Offer:
    """A station somebody could be moved to, or why not."""

    station: Station
    there: int
    is_here: bool
    as_learner: bool
    no: str = ""


def places_for(night: Night, block: Block, person: Person) -> dict[str, Any]:
    """``name``, ``here`` (the placing now, or None), ``open`` and ``shut`` offers. 12 queries."""
    loaded = load(night)
    at_block = [row for row in loaded.placings if row.block_id == block.pk]
    here = next((row for row in at_block if row.person_id == person.pk), None)
    offers = [
        _offer(
            station,
            loaded.register,
            person.pk,
            closed=closed_because(station, night),
            there=sum(row.station_id == station.pk for row in at_block),
            is_here=here is not None and here.station_id == station.pk,
        )
        for station in loaded.stations
    ]
    return {
        "name": short_names(loaded.register.people.values())[person.pk],
        "here": here,
        "open": [each for each in offers if not each.no],
        "shut": [each for each in offers if each.no],
    }


def _offer(
    station: Station, register: Register, person: int, *, closed: str, there: int, is_here: bool
) -> Offer:
    is_watch = station.kind == Station.Kind.FIRE_WATCH
    answer = register.answer(person, station.pk, Doing.WATCHES if is_watch else Doing.WORKS)
    # Nobody learns by keeping the watch: it is kept by one who may.
    learns = answer.level == Level.WITH_A_LEAD and bool(station.level_needed) and not is_watch
    if learns and not answer.ok:
        answer = register.answer(person, station.pk, Doing.LEARNS)
    no = closed or " ".join(reason.text for reason in answer.reasons)
    return Offer(station, there, is_here, as_learner=learns, no=no)
