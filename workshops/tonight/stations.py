"""Each station of a night: open, short or closed, how likely, and what it hangs on. No query."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from workshops.nights.board import BoardView, Row
from workshops.nights.engine.board import spell_minute, spell_names
from workshops.nights.engine.stations import Station as Place
from workshops.people.gate import Doing
from workshops.stations.models import Station
from workshops.tonight.crews import Crew, Hand

AT_THE_DOOR = frozenset({"waiver"})  # signed as they come in
LIKELY = 0.5  # below this a station with a full crew on paper is not called open


@dataclass(frozen=True)
class Standing:
    """One station tonight.

    Parameters
    ----------
    state
        ``open``, ``short`` or ``closed``; ``word`` says it in other words where they are truer.
    chance
        That its crew comes, 0 to 1; 0 where nothing opens it whoever comes.
    hands
        Those who may work there and come, or perhaps come.
    is_shut
        Closed whoever comes: by the kind of night, or out of use.
    """

    station: Station
    state: str
    chance: float
    hands: tuple[Hand, ...]
    crew: Crew
    word: str = ""
    reason: str = ""
    is_shut: bool = False
    hangs_on: tuple[int, ...] = ()
    lacks_watch: bool = False

    @property
    def is_gap(self) -> bool:
        """Whether somebody signed off is missing here."""
        return self.state != "open" and not self.is_shut and bool(self.station.level_needed)

    @property
    def tenths(self) -> int:
        """The chance in tenths, never 10 or 0 while it is neither sure nor out of reach."""
        if self.chance >= 1 - 1e-9 or self.chance <= 1e-9:
            return round(10 * self.chance)
        return min(9, max(1, round(10 * self.chance)))


class Floor:
    """The stations of a night against those who come, perhaps come, or are here.

    Parameters
    ----------
    board
        The night as its board shows it.
    chances
        Person -> chance to be here.
    least
        The chance from which somebody who said yes is counted on: none before the doors open,
        when nobody is late.
    since
        The minute it is: stretches of work that are over by then count no more.
    """

    def __init__(
        self,
        board: BoardView,
        chances: Mapping[int, float],
        *,
        least: float = 0.0,
        since: int = 0,
    ) -> None:
        self.board, self.chances, self.least = board, chances, least
        self.left = [block for block in board.loaded.bare.blocks if block.end > since]
        self.register, self.problem = board.loaded.register, board.loaded.bare
        self.names = board.names
        self._rows = {row.station.pk: row for row in board.rows}

    @cached_property
    def expected(self) -> frozenset[int]:
        """Those to count on: they are in, or said yes and are not so late that they hardly come."""
        return frozenset(
            each.person_id
            for each in self.board.coming
            if each.is_expected
            and (each.is_in or self.chances.get(each.person_id, 0) >= self.least)
        )

    @cached_property
    def standings(self) -> list[Standing]:
        """Every station, in the order of the work."""
        return [self._standing(station) for station in self.board.loaded.stations]

    @cached_property
    def watch(self) -> Station | None:
        """The duty of the fire watch, where the shop has one."""
        rows = self.board.loaded.stations
        return next((row for row in rows if row.kind == Station.Kind.FIRE_WATCH), None)

    @cached_property
    def is_hot_night(self) -> bool:
        """Whether any hot work could be done tonight at all."""
        return any(each.is_hot and not self.shut(each) for each in self.problem.benches)

    def place(self, station: Station) -> Place:
        """The station as the engine's rules know it."""
        return self.problem.station[str(station.pk)]

    def shut(self, place: Place) -> str:
        """Why a station is closed whoever comes; empty when it is not."""
        if place.closed_because:
            return f"{place.closed_because[:1].upper()}{place.closed_because[1:].rstrip('.')}."
        broken = [
            tool.name
            for tool in self.problem.tools
            if place.tools.get(tool.id, 0) > tool.count - tool.out_of_service
        ]
        if broken:
            return f"Out of service: {spell_names(broken)}."
        if place.is_hot and self.left and self.left[0].end > self.problem.last_spark:
            spark = spell_minute(max(0, self.problem.last_spark))
            return f"Last spark is at {spark}, and no stretch of work ends before it any more."
        return ""

    def hands(self, station: Station, people: Iterable[int]) -> list[Hand]:
        """Those of the people who are of any use there, asked of the gate."""
        place = self.place(station)
        found = [self._hand(station, place, person) for person in people]
        return [hand for hand in found if hand.kind.rank or hand.watches]

    def _hand(self, station: Station, place: Place, person: int) -> Hand:
        is_here = self._is_here(person, place)
        watches = (place.is_hot or place.is_fire_watch) and is_here and self._watches(person)
        chance = self.chances.get(person, 0.0)
        if place.is_fire_watch:
            return Hand(person, chance, works=watches)
        return Hand(
            person,
            chance,
            leads=is_here and self.may(person, station, Doing.LEADS) and place.takes_learners,
            works=is_here and self.may(person, station, Doing.WORKS),
            learns=is_here and place.takes_learners and self.may(person, station, Doing.LEARNS),
            watches=watches,
        )

    def may(self, person: int, station: Station, doing: Doing) -> bool:
        """Whether the gate lets them, but for a waiver that is signed at the door."""
        return self.register.answer(person, station.pk, doing).ok_but_for(AT_THE_DOOR)

    def _watches(self, person: int) -> bool:
        return self.watch is not None and self.may(person, self.watch, Doing.WATCHES)

    def _is_here(self, person: int, place: Place) -> bool:
        """Whether they are here for any whole stretch; who said perhaps is taken for all night."""
        who = self.problem.person.get(str(person))
        if who is None:
            return False
        if not who.present:
            return person not in self.expected
        last = self.problem.last_spark if place.is_hot else 24 * 60 * 2
        return any(who.is_present(b.start, b.end) for b in self.left if b.end <= last)

    def crew(self, place: Place) -> Crew:
        """What one open bench of a station needs."""
        ratio = self.problem.learner_ratio(place) if place.takes_learners else 0
        return Crew(place.crew_least, ratio, needs_watch=place.is_hot)

    def _standing(self, station: Station) -> Standing:
        place = self.place(station)
        crew, shut = self.crew(place), self.shut(place)
        if shut:
            return Standing(station, "closed", 0.0, (), crew, reason=shut, is_shut=True)
        if place.is_fire_watch and not self.is_hot_night:
            return Standing(
                station, "closed", 0.0, (), crew, word="not needed",
                reason="No hot work tonight.", is_shut=True,
            )  # fmt: skip
        hands = self.hands(station, self.chances)
        there = [hand for hand in hands if hand.person in self.expected]
        found = Standing(
            station, self._state(crew, hands, there), crew.chance(hands), tuple(hands), crew,
            reason=self._reason(crew, hands, there),
            hangs_on=crew.hangs_on(there) if place.level_needed else (),
            lacks_watch=self._lacks_watch(crew, there),
        )  # fmt: skip
        return self._with_plan(found) if self.board.is_placed else found

    def _state(self, crew: Crew, hands: list[Hand], there: list[Hand]) -> str:
        if crew.is_full(there):
            return "open" if crew.chance(hands) >= LIKELY else "short"
        return "short" if any(hand.kind.rank for hand in there) else "closed"

    def _lacks_watch(self, crew: Crew, there: list[Hand]) -> bool:
        bench = Crew(crew.least, crew.learners_per_lead)
        return crew.needs_watch and not crew.is_full(there) and bench.is_full(there)

    def _reason(self, crew: Crew, hands: list[Hand], there: list[Hand]) -> str:
        """What is missing, in a sentence; empty when nothing is."""
        if crew.is_full(there):
            return self._unsure(crew, hands)
        able = [hand for hand in there if hand.works or hand.leads]
        if self._lacks_watch(crew, there):
            if any(hand.watches for hand in there):
                return "Nobody can work here and keep its fire watch at once."
            return "Nobody who comes may keep the fire watch."
        if not able:
            return self._nobody(hands, there)
        return f"{self._names(able)} may; it takes {crew.least} at a bench."

    def _nobody(self, hands: list[Hand], there: list[Hand]) -> str:
        learners = [hand for hand in there if hand.learns]
        if learners:
            return f"{self._names(learners)} could learn here, and nobody who may lead comes."
        perhaps = [h for h in hands if h.kind.rank and h.person not in self.expected]
        if perhaps:
            return f"Only {self._names(perhaps)} may, and said perhaps."
        return "Nobody who comes may work here by a current sign-off."

    def _unsure(self, crew: Crew, hands: list[Hand]) -> str:
        if crew.chance(hands) >= LIKELY:
            return ""
        return "On paper there are enough; by the nights before, they do not often all come."

    def _names(self, hands: Iterable[Hand]) -> str:
        return spell_names(self.names[hand.person] for hand in hands)

    def _with_plan(self, found: Standing) -> Standing:
        """The same beside the plan that stands: a crew that could be is not yet one."""
        row: Row = self._rows[found.station.pk]
        if row.state == "open":
            return found
        if row.state == "short":
            return replace(found, state="short", reason=row.reason)
        if found.state != "open":
            return replace(found, state="closed")
        reason = f"{row.reason[:1].upper()}{row.reason[1:]}"
        return replace(found, state="closed", reason=reason, word="not in the plan")

    def where(self, person: int) -> list[str]:
        """The stations at which the plan has somebody, in the order of the night."""
        stations = {row.pk: row.name for row in self.board.loaded.stations}
        placed = [row for row in self.board.loaded.placings if row.person_id == person]
        return list(dict.fromkeys(stations[row.station_id] for row in placed))

    def present_from(self, person: int) -> str:
        """When they come, where that is later than the first stretch of work."""
        who = self.problem.person.get(str(person))
        first = self.problem.blocks[0].start if self.problem.blocks else 0
        late = who is not None and bool(who.present) and who.present[0].start > first
        return spell_minute(who.present[0].start) if who and late else ""
