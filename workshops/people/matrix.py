"""The sign-off matrix: person by station on a day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from enum import StrEnum

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from inventory.places.models import Shop
from workshops.people.cover import hands_at, signers_at
from workshops.people.facts import PersonFacts, StationFacts
from workshops.people.gate import Register, register_on
from workshops.people.names import told_apart
from workshops.people.practice import Practice, practice_of, readiness
from workshops.people.standing import Standing, standing
from workshops.stations.models import Level

Done = Mapping[tuple[int, int], Practice]  # by person and station


class Show(StrEnum):
    """Which people a list shows."""

    ALL = "all"
    COMING = "coming"
    LAPSED = "lapsed"
    LAPSING = "lapsing"
    BARRED = "barred"
    NO_WAIVER = "no-waiver"
    MINORS = "minors"
    NEARLY = "nearly-ready"
    GONE = "gone"


@dataclass(frozen=True, slots=True)
class MatrixRow:
    """One person of the matrix, a standing for each station."""

    facts: PersonFacts
    name: str
    cells: list[Standing]
    names: Sequence[str] = field(default=(), repr=False)  # of the stations, escaped

    @property
    def html(self) -> SafeString:
        """The cells, one beside the other."""
        pairs = zip(self.cells, self.names, strict=True)
        return mark_safe("".join(cell.html(name) for cell, name in pairs))


@dataclass(frozen=True, slots=True)
class MatrixHead:
    """A station as the head of its column: how many may work and sign there now.

    ``hands`` is none where no sign-off is asked, so that anybody can stand there.
    """

    station: StationFacts
    hands: int | None
    signers: int

    @property
    def is_alone(self) -> bool:
        """Whether the work hangs on one person, or on nobody."""
        return self.hands is not None and self.hands < 2


@dataclass(frozen=True, slots=True)
class Matrix:
    """The sign-off matrix of a shop on a day."""

    on: date
    heads: list[MatrixHead]
    rows: list[MatrixRow]
    warning_days: int

    @property
    def alone(self) -> list[MatrixHead]:
        """The stations whose work hangs on one person or on nobody."""
        return [head for head in self.heads if head.is_alone]


def matrix_of(
    shop: Shop, on: date, *, words: str = "", show: Show = Show.ALL, coming: Iterable[int] = ()
) -> Matrix:
    """Person by station: nine queries for any size.

    Stations out of use are left out, and those that take no sign-off and have none.
    """
    register = register_on(shop, on)
    # A column for what was once signed for, even where the club asks for it no more.
    taught = {pk for facts in register.people.values() for pk in facts.signed}
    stations = [
        station
        for pk, station in register.stations.items()
        if station.is_in_use and (station.level_needed or pk in taught)
    ]
    people = [facts for facts in register.people.values() if facts.is_active]
    practice, at = practice_of(shop, on), [escape(station.name) for station in stations]
    names, chosen = told_apart(people), set(coming)
    rows = []
    for facts in people:
        if not is_called(names[facts.pk], words):
            continue
        if show is Show.COMING and facts.pk not in chosen:
            continue
        cells = [_cell(register, facts, station.pk, practice) for station in stations]
        if _has_mark(cells, show):
            rows.append(MatrixRow(facts, names[facts.pk], cells, at))
    heads = [_head(register, station) for station in stations]
    return Matrix(on, heads, rows, register.rules.lapse_warning_days)


def _cell(register: Register, facts: PersonFacts, station: int, practice: Done) -> Standing:
    cell = standing(register, facts, station)
    if cell.level != Level.WITH_A_LEAD:
        return cell
    ready = readiness(register, facts, station, practice)
    return replace(cell, nearly=ready.word) if ready and ready.is_near else cell


def _head(register: Register, station: StationFacts) -> MatrixHead:
    hands = len(hands_at(register, station.pk)) if station.level_needed else None
    return MatrixHead(station, hands, len(signers_at(register, station.pk)))


def _has_mark(cells: list[Standing], show: Show) -> bool:
    if show is Show.NEARLY:
        return any(cell.nearly for cell in cells)
    if show not in (Show.LAPSED, Show.LAPSING, Show.BARRED):
        return True
    return any(cell.mark.value == show.value for cell in cells)


def is_called(name: str, words: str) -> bool:
    """Whether every word is a part of the name."""
    return all(word in name.casefold() for word in words.casefold().split())
