"""The gate: may this person do this, here, then, and if not why and what would make it so.

Every door asks it. It never calls work harmless: ``ok`` means that none of its
rules stops it, and ``TITLES`` lists the rules. What depends on the whole of a plan (the
lead beside a learner, the guardian in the building) is checked by the rules of the plan.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, datetime

from inventory.places.models import Shop
from workshops.club.queries import Rules, rules_of
from workshops.people.facts import (
    PersonFacts,
    StationFacts,
    load_people,
    load_stations,
    station_facts,
)
from workshops.people.grounds import GROUNDS, TITLES, Case, Doing, Reason
from workshops.people.lives import lives_of
from workshops.people.models import Person
from workshops.people.register import Signed
from workshops.stations.models import Level, Station

__all__ = ["TITLES", "Answer", "Doing", "Reason", "Register", "may", "register_on"]


@dataclass(frozen=True, slots=True)
class Answer:
    """What the gate says.

    ``level`` and ``valid_until`` are of the sign-off that counts on the day, whatever the
    answer; none when there is none.
    """

    ok: bool
    reasons: tuple[Reason, ...] = ()
    level: Level | None = None
    valid_until: date | None = None

    def ok_but_for(self, rules: Collection[str]) -> bool:
        """Whether nothing but the named rules stops it: a waiver can be signed at the door."""
        return all(reason.rule in rules for reason in self.reasons)

    def stopped_by(self, rule: str) -> Reason | None:
        """The reason of that rule, or None when it does not stop this."""
        return next((reason for reason in self.reasons if reason.rule == rule), None)


@dataclass(frozen=True)
class Register:
    """Everybody and every station of a shop on one day: asked without further queries."""

    on: date
    rules: Rules
    people: dict[int, PersonFacts]
    stations: dict[int, StationFacts]

    def answer(self, person: int, station: int, doing: Doing | str = Doing.WORKS) -> Answer:
        """What the gate says of a person at a station, by their ids.

        Raises
        ------
        KeyError
            When the shop has no such person or station.
        """
        # An unknown id raises rather than passing as somebody whom nothing stops.
        case = Case(self.people[person], self.stations[station], self.on, Doing(doing), self.rules)
        return _judge(case)

    def signed(self, person: int, station: int) -> Signed | None:
        """The latest sign-off signed by then, current or lapsed."""
        return self.people[person].signed.get(station)

    def who_may(self, station: int, doing: Doing | str = Doing.WORKS) -> list[int]:
        """The ids of all whom no rule stops, in the order of the list."""
        return [person for person in self.people if self.answer(person, station, doing).ok]


def may(person: Person, station: Station, on: date, *, doing: Doing | str = Doing.WORKS) -> Answer:
    """What the gate says of one person at one station on one day: eight queries.

    Notes
    -----
    The rows are read anew each time, so a caller that asks inside its transaction sees a
    bar that was committed a moment before.
    """
    rules = rules_of(station.shop)
    # From the person's own shop: the first ground then sees when it is another one.
    lives = lives_of(person.shop, rules, on)
    facts = load_people(person.shop, on, rules.adult_age, person, lives=lives)[person.pk]
    place = load_stations(station.shop, station)[station.pk]
    return _judge(Case(facts, place, on, Doing(doing), rules))


def register_on(
    shop: Shop,
    on: date,
    *,
    stations: Iterable[Station] | None = None,
    known: datetime | None = None,
) -> Register:
    """The register of a shop on a day, past or to come: eight queries for any size.

    Stations that the caller has at hand, with their prerequisites, save two of them. With
    ``known``, sign-offs and bars are those that had been written down by that moment.
    """
    rules = rules_of(shop)
    places = load_stations(shop) if stations is None else station_facts(stations)
    lives = lives_of(shop, rules, on, known=known)
    people = load_people(shop, on, rules.adult_age, lives=lives, known=known)
    return Register(on, rules, people, places)


def _judge(case: Case) -> Answer:
    # All of them, not the first: a person is sent once to mend everything.
    reasons = tuple([reason for ground in GROUNDS if (reason := ground(case)) is not None])
    signed = case.person.current(case.station.id, case.on)
    return Answer(
        ok=not reasons,
        reasons=reasons,
        level=signed.level if signed else None,
        valid_until=signed.valid_until if signed else None,
    )
