"""How a person stands at a station on a day, as a word and a mark that pages show."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from workshops.people.facts import PersonFacts, Signed
from workshops.people.gate import Register
from workshops.stations.models import Level

# Short enough for a column of a tablet.
WORDS = {
    Level.SHOWN_HOW: "shown",
    Level.WITH_A_LEAD: "with lead",
    Level.ALONE: "alone",
    Level.MAY_LEAD: "leads",
    Level.MAY_SIGN: "signs",
}


class Mark(StrEnum):
    """What the register says of one person at one station."""

    NONE = "none"
    CURRENT = "current"
    LAPSING = "lapsing"
    LAPSED = "lapsed"
    BARRED = "barred"


@dataclass(frozen=True, slots=True)
class Standing:
    """One cell of the register."""

    mark: Mark
    level: Level | None = None
    valid_until: date | None = None

    @property
    def word(self) -> str:
        """The level in a word, or what stands in its way; empty for no sign-off."""
        if self.mark is Mark.BARRED:
            return "barred"
        if self.mark is Mark.LAPSED:
            return "lapsed"
        return WORDS[self.level] if self.level else ""


NOTHING = Standing(Mark.NONE)


def standing(register: Register, person: PersonFacts, station: int) -> Standing:
    """How the person stands at the station on the day of the register. No query."""
    signed = person.signed.get(station)
    level = signed.level if signed else None
    until = signed.valid_until if signed else None
    if person.bar_at(station):
        return Standing(Mark.BARRED, level, until)
    if signed is None:
        return NOTHING
    return Standing(mark_of(signed, register.on, register.rules.lapse_warning_days), level, until)


def mark_of(signed: Signed, on: date, warning_days: int) -> Mark:
    """Whether a sign-off counts, lapses within the club's warning, or has lapsed."""
    if not signed.is_current(on):
        return Mark.LAPSED
    if signed.valid_until and signed.valid_until < on + timedelta(days=warning_days):
        return Mark.LAPSING
    return Mark.CURRENT
