"""Small nights that can be worked out by hand: one block from 18:30 to 19:15 unless told."""

from __future__ import annotations

from typing import Any

from workshops.nights.engine.people import Level, Person, SignOff, Span
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.stations import Operation, Piece, Station

DATE = "2031-01-16"
BLOCK = Span(1110, 1155)
EVENING = Span(1080, 1290)
LOCK_UP = 1260


def person(name: str, /, *signed: str | SignOff, **facts: Any) -> Person:
    """Somebody here all evening, signed off as ``"drill"`` (alone) or ``"drill may_lead"``."""
    lines = [each if isinstance(each, SignOff) else _line(each) for each in signed]
    known = {"present": (EVENING,), **facts}
    return Person(name, name.title(), sign_offs=tuple(lines), **known)


def _line(text: str) -> SignOff:
    station, _, level = text.partition(" ")
    return SignOff(station, Level(level or "alone"))


def bench(name: str, /, **facts: Any) -> Station:
    """A station for one, asking for "alone", in the steel room."""
    known = {"room": "steel", "level_needed": Level.ALONE, **facts}
    return Station(name, name.title(), **known)


def watch(**facts: Any) -> Station:
    """The fire watch."""
    return bench("watch", is_fire_watch=True, **facts)


def night(people: list[Person], stations: list[Station], **facts: Any) -> Problem:
    """A night on which every bench makes a piece worth 10 points in 9 minutes (5 a block)."""
    made = [each for each in stations if not each.is_fire_watch]
    known: dict[str, Any] = {
        "date": DATE,
        "blocks": (BLOCK,),
        "lock_up": LOCK_UP,
        "operations": tuple(
            Operation(f"{each.id}_work", each.id, f"{each.name} work", 9.0, f"{each.id}_piece")
            for each in made
        ),
        "pieces": tuple(Piece(f"{each.id}_piece", f"{each.name} piece", 10.0) for each in made),
    }
    return Problem(people=tuple(people), stations=tuple(stations), **{**known, **facts})
