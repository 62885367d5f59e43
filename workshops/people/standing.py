"""How a person stands at a station on a day, as a word and a mark that pages show."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from workshops.people.facts import PersonFacts
from workshops.people.gate import Register
from workshops.people.register import Signed
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
    # Of a learner who is ready to be signed, or one night short of it.
    nearly: str = ""

    @property
    def word(self) -> str:
        """The level in a word, or what stands in its way; empty for no sign-off."""
        if self.mark is Mark.BARRED:
            return "barred"
        if self.mark is Mark.LAPSED:
            return "lapsed"
        return WORDS[self.level] if self.level else ""

    @property
    def style(self) -> str:
        """The style classes that draw the level and the mark; empty for no sign-off."""
        if self.mark in (Mark.NONE, Mark.LAPSED, Mark.BARRED):
            return {Mark.LAPSED: "gone", Mark.BARRED: "bar"}.get(self.mark, "")
        near = " near" if self.nearly else ""
        return f"l{self.level}{near}" + (" soon" if self.mark is Mark.LAPSING else "")

    @property
    def note(self) -> str:
        """Until when, where that is soon or past; how nearly ready; empty otherwise."""
        if self.nearly:
            return self.nearly
        if self.valid_until is None or self.mark not in (Mark.LAPSING, Mark.LAPSED):
            return ""
        ends = f"{self.valid_until.day} {self.valid_until:%b}"
        return f"to {ends}" if self.mark is Mark.LAPSING else f"{ends} {self.valid_until.year}"

    def html(self, at: str) -> str:
        """The cell of the matrix, as short as 2,400 of them on a slow tablet ask for.

        ``at`` is the station's name, escaped: on a phone there is no column to say it.
        """
        if self.mark is Mark.NONE:
            return EMPTY_CELL
        # Written out: the words are our own, and escaping each cell takes longer than all else.
        note = f"<small>{self.note}</small>" if self.note else ""
        return f'<td class="{self.style}" data-at="{at}">{self.word}{note}</td>'


EMPTY_CELL = "<td></td>"
NOTHING = Standing(Mark.NONE)


def standing(register: Register, person: PersonFacts, station: int) -> Standing:
    """How the person stands at the station on the day of the register. No query."""
    signed = person.signed.get(station)
    level = signed.level if signed else None
    until = signed.valid_until if signed else None
    # First: whoever is barred must not look able in the matrix.
    if person.bar_at(station):
        return Standing(Mark.BARRED, level, until)
    if signed is None:
        return NOTHING
    return Standing(mark_of(signed, register.on, register.rules.lapse_warning_days), level, until)


def mark_of(signed: Signed, on: date, warning_days: int) -> Mark:
    """Whether a sign-off counts, lapses within the club's warning, or has lapsed."""
    if not signed.is_current(on):
        return Mark.LAPSED
    # Strictly: with a warning of no days nothing lapses soon.
    if signed.valid_until and signed.valid_until < on + timedelta(days=warning_days):
        return Mark.LAPSING
    return Mark.CURRENT
