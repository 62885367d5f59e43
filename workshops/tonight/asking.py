"""For each gap, who could fill it: those who come, and whom to ask, fairest first. No query."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from workshops.nights.models import Night, SignUp
from workshops.people.cover import Cover, hands_at, who_could_cover
from workshops.tonight.fairness import Load
from workshops.tonight.models import Ask
from workshops.tonight.stations import AT_THE_DOOR, Floor, Standing

NOBODY_YET = Load()
MOST_ASKED = 6  # at 17:40 nobody rings more than that


@dataclass(frozen=True, slots=True)
class Askable:
    """Somebody who may work at a station and is not coming so far.

    ``said`` is what they answered for the night, ``ask`` the row once they were asked for it.
    """

    person: int
    name: str
    load: str
    said: str = ""
    ask: Ask | None = None
    is_heavy: bool = False


@dataclass(frozen=True, slots=True)
class Gap:
    """What could be done about one station that is short or closed.

    ``movable`` are those who come and may, with where the plan has them; ``nearly`` those
    who come and could after a step; ``asks`` those to ask, the fairest first.
    """

    movable: tuple[tuple[str, str], ...]
    nearly: tuple[tuple[str, str], ...]
    asks: tuple[Askable, ...]
    more: int = 0
    alone: str = ""

    @property
    def is_hopeless(self) -> bool:
        """Whether nobody at all could fill it tonight."""
        return not (self.movable or self.nearly or self.asks)


class Asking:
    """Who could fill the gaps of a night.

    Parameters
    ----------
    loads
        What each person carried this winter.
    asks
        The asks for this night, of any station.
    """

    def __init__(
        self, floor: Floor, loads: Mapping[int, Load], asks: Iterable[Ask], now: datetime
    ) -> None:
        self.floor, self.loads, self.now = floor, loads, now
        self.asked = {(ask.person_id, ask.station_id): ask for ask in asks}
        self._said = {each.person_id: each.answer for each in floor.board.coming}
        self._gone = {each.person_id for each in floor.board.coming if each.out_at}

    @property
    def night(self) -> Night:
        """The night it is about."""
        return self.floor.board.night

    def gap(self, standing: Standing) -> Gap:
        """What could be done about a station that is not open."""
        station, floor = standing.station, self.floor
        covers = who_could_cover(floor.register, station.pk)
        here = [each for each in covers if each.person in floor.expected]
        ready = {hand.person for hand in standing.hands if hand.works or hand.leads}
        away = [
            each
            for each in covers
            if each.person not in floor.expected | self._gone and self._may(each, standing)
        ]
        away.sort(key=lambda each: self._order(each.person, station.pk))
        return Gap(
            movable=tuple(
                (self._name(each), " and ".join(floor.where(each.person)) or "no place yet")
                for each in here
                if each.person in ready and station.name not in floor.where(each.person)
            ),
            nearly=tuple((self._name(each), each.how) for each in here if not each.is_ready),
            asks=tuple(self._askable(each, station.pk) for each in away[:MOST_ASKED]),
            more=max(0, len(away) - MOST_ASKED),
            alone=self._alone(station.pk),
        )

    def _may(self, cover: Cover, standing: Standing) -> bool:
        answer = self.floor.register.answer(cover.person, standing.station.pk)
        return answer.ok_but_for(AT_THE_DOOR)

    def _order(self, person: int, station: int) -> tuple[bool, bool, float, str]:
        """Those still to be asked first, those who said no last, between them by their turn."""
        said_no = self._said.get(person) == SignUp.Answer.NO
        turn = self.loads.get(person, NOBODY_YET).turn(self.now)
        return ((person, station) in self.asked, said_no, turn, self.floor.names[person])

    def _askable(self, cover: Cover, station: int) -> Askable:
        load = self.loads.get(cover.person, NOBODY_YET)
        return Askable(
            cover.person,
            self._name(cover),
            load=load.told(self.now),
            said=self._said.get(cover.person, ""),
            ask=self.asked.get((cover.person, station)),
            is_heavy=load.is_heavy,
        )

    def _alone(self, station: int) -> str:
        """That one person carries the station and nearly every night, in a sentence; or nothing."""
        hands = hands_at(self.floor.register, station)
        load = self.loads.get(hands[0]) if len(hands) == 1 else None
        if load is None or not load.is_heavy:
            return ""
        name = self.floor.names[hands[0]]
        return (
            f"Only {name} can, and worked {load.worked} of {load.held} nights this winter: "
            "too much for one person. Train a second."
        )

    def alone(self, standing: Standing) -> str:
        """The same sentence for a station that is open."""
        return self._alone(standing.station.pk) if standing.station.level_needed else ""

    def _name(self, cover: Cover) -> str:
        return self.floor.names[cover.person]
