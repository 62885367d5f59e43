"""The paper sign-offs and waivers of a list: what is new in them, and what cannot be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from workshops.common.columns import TypedRow
from workshops.people.days import last_day, spell_day
from workshops.people.exchange.columns import STATION, PaperSignOff, spelled
from workshops.people.exchange.known import Known
from workshops.people.models import Person
from workshops.stations.models import Level, Station


@dataclass(frozen=True, slots=True)
class ToEnter:
    """A sign-off to be entered from paper, and what counted before."""

    station: Station
    level: Level
    on: date
    until: date | None
    before: str = ""

    @property
    def spelled(self) -> str:
        """As a list writes it."""
        return spelled(self.level, self.on, self.until)


def sign_offs(row: TypedRow, person: Person | None, known: Known) -> Iterator[ToEnter | str]:
    """What the row's columns of stations ask to enter; a sentence for what cannot be."""
    for name, told in row.values.items():
        if name.startswith(STATION) and told is not None:
            station = known.stations[int(name.removeprefix(STATION))]
            try:
                found = _entered(told, station, person, known)
            except ValueError as refused:
                yield f"{station.name}: {refused}"
                continue
            if found:
                yield found


def _entered(
    told: PaperSignOff, station: Station, person: Person | None, known: Known
) -> ToEnter | None:
    had = known.sign_offs.get((person.pk, station.pk), []) if person else []
    on = told.on or known.today
    if any(_is_told(told, row) for row, is_ended in had if not is_ended):
        return None
    if told.level == Level.MAY_SIGN:
        raise ValueError("no list makes an authoriser: enter it on the page of the person.")
    if any(is_ended for _, is_ended in had):
        raise ValueError("a sign-off was ended by a review here: they are shown and signed anew.")
    if on > known.today:
        raise ValueError(f"{spell_day(on)} is still to come.")
    if had and had[0][0].signed_on > on:
        later = spell_day(had[0][0].signed_on)
        raise ValueError(f"there is one of {later} already; one that is older would not count.")
    longest = known.longest(station.pk, on)
    until = told.until or longest
    if until and (until < on or (longest and until > longest)):
        ends = f" to {spell_day(longest)}, as the club's rule has it" if longest else ""
        raise ValueError(f"it can count from {spell_day(on)}{ends}; mend its days.")
    before = spelled(had[0][0].level, had[0][0].signed_on, had[0][0].valid_until) if had else ""
    return ToEnter(station, told.level, on, until, before)


def _is_told(told: PaperSignOff, row: Any) -> bool:
    """Whether the register has it already; what the cell leaves open may be anything."""
    return bool(
        row.level == told.level
        and told.on in (None, row.signed_on)
        and told.until in (None, row.valid_until)
    )


@dataclass(frozen=True, slots=True)
class ToSign:
    """A waiver to be kept."""

    version: str
    on: date
    until: date


def waiver(row: TypedRow, person: Person | None, known: Known) -> ToSign | str | None:
    """The waiver that the row brings; nothing when it is kept already, a sentence of what lacks."""
    version, on = row.values.get("waiver"), row.values.get("waiver_on")
    until = row.values.get("waiver_until")
    if not (version or on or until):
        return None
    if not (version and on):
        return "Waiver: write its version and the day on which it was signed."
    if on > known.today:
        return f"Waiver: {spell_day(on)} is still to come."
    until = until or last_day(on, known.rules.waiver_months)
    if until < on:
        return "Waiver: it ends before it was signed."
    kept = known.waivers.get(person.pk, []) if person else []
    if any((each.version, each.signed_on) == (version, on) for each in kept):
        return None
    return ToSign(version, on, until)
