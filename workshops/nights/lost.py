"""Stations that somebody's no has closed: said to whoever runs the night, with whom to ask."""

from __future__ import annotations

from dataclasses import dataclass

from workshops.nights.board import BoardView
from workshops.nights.engine.board import spell_names
from workshops.nights.models import SignUp
from workshops.people.cover import hands_at, who_could_cover

ASKED = 3  # names to ring up: more are no help at 17:40


@dataclass(frozen=True, slots=True)
class Lost:
    """A station nobody who comes may work at, though somebody who said no could have."""

    station: str
    said_no: tuple[str, ...]
    could_ask: tuple[str, ...]

    @property
    def ask(self) -> str:
        """Whom to ask, as a sentence; empty when there is nobody."""
        # A short name ends in a full stop of its own.
        return f"Ask {spell_names(self.could_ask).rstrip('.')}." if self.could_ask else ""


def lost_by_a_no(board: BoardView) -> list[Lost]:
    """The stations closed by a no, in the order of the work; empty most nights. No query."""
    register = board.loaded.register
    coming = {each.person_id for each in board.coming if each.is_expected}
    said_no = {each.person_id for each in board.coming if each.answer == SignUp.Answer.NO}
    found = []
    for station in board.loaded.stations:
        hands = set(hands_at(register, station.pk))
        gone = hands & said_no - coming
        # Without a no the station was closed before: the board tells why.
        if not gone or hands & coming:
            continue
        could = [
            board.names[each.person]
            for each in who_could_cover(register, station.pk)
            if each.person not in said_no
        ]
        names = tuple(sorted(board.names[pk] for pk in gone))
        found.append(Lost(station.name, names, tuple(could[:ASKED])))
    return found
