"""What learners have done beside a lead, and who is nearly ready to be signed to work alone.

Hours and nights are counted from the uses that nights write: placed there as a learner, on
the roll, and something counted at the station. What the club asks is a rule of its own; it
is never reason enough: an authoriser has to see the work.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from django.db.models import Count, Sum

from inventory.places.models import Shop
from workshops.club.queries import Rules
from workshops.people.facts import PersonFacts
from workshops.people.gate import Register
from workshops.people.models import Use
from workshops.stations.models import Level

USUAL_NIGHT = 120  # minutes of work in a night, where the person's own nights say nothing


@dataclass(frozen=True, slots=True)
class Practice:
    """Nights and minutes of one person at one station beside a lead."""

    nights: int = 0
    minutes: int = 0

    @property
    def hours(self) -> str:
        """The minutes as people write them: ``4:10``."""
        return spell_hours(self.minutes)


@dataclass(frozen=True, slots=True)
class Readiness:
    """How far a learner is from what the club asks before somebody may be signed.

    ``nights`` and ``hours`` are what it asks; none where it asks nothing of that kind.
    """

    done: Practice
    nights: int | None
    hours: int | None

    @property
    def nights_left(self) -> int:
        """Nights still wanted, at the pace of the nights so far; 0 when all is done."""
        missing = max(0, (self.nights or 0) - self.done.nights)
        minutes = max(0, (self.hours or 0) * 60 - self.done.minutes)
        a_night = self.done.minutes // self.done.nights if self.done.nights else USUAL_NIGHT
        # Rounded up: half a night missing is another night.
        return max(missing, -(-minutes // max(1, a_night)))

    @property
    def is_counted(self) -> bool:
        """Whether the club asks for any nights or hours."""
        return bool(self.nights or self.hours)

    @property
    def is_ready(self) -> bool:
        """Whether what the club asks is done; an authoriser has still to see it."""
        return self.is_counted and not self.nights_left

    @property
    def is_near(self) -> bool:
        """Whether it is done, or one night short of it."""
        return self.is_counted and self.nights_left <= 1

    @property
    def word(self) -> str:
        """For a cell: ``ready``, ``1 night left``; empty when it is farther off."""
        if not self.is_near:
            return ""
        return "can be signed" if self.is_ready else "1 night left"

    def told(self) -> str:
        """In words: ``2 of 3 nights and 3:20 of 4 hours beside a lead``."""
        said = []
        if self.nights:
            said.append(f"{self.done.nights} of {self.nights} nights")
        if self.hours:
            said.append(f"{self.done.hours} of {self.hours} hours")
        if not said:
            said.append(f"{self.done.nights} nights, {self.done.hours} hours")
        return f"{' and '.join(said)} beside a lead"


def spell_hours(minutes: int) -> str:
    """Minutes as hours: ``4:10``."""
    return f"{minutes // 60}:{minutes % 60:02}"


def practice_of(shop: Shop, on: date) -> dict[tuple[int, int], Practice]:
    """(person, station) -> what was done there beside a lead up to a day. 1 query."""
    rows = Use.objects.filter(shop=shop, with_a_lead=True, minutes__gt=0, day__lte=on)
    sums = rows.order_by().values_list("person", "station")
    counted = sums.annotate(nights=Count("day", distinct=True), spent=Sum("minutes"))
    return {
        (person, station): Practice(nights, spent) for person, station, nights, spent in counted
    }


def readiness(
    register: Register,
    person: PersonFacts,
    station: int,
    practice: Mapping[tuple[int, int], Practice],
) -> Readiness | None:
    """How far a learner is, or None for somebody who does not learn there now. No query."""
    signed = person.current(station, register.on)
    if signed is None or signed.level != Level.WITH_A_LEAD or person.bar_at(station):
        return None
    # Sent back beside a lead by a suspension: that is no matter of hours.
    if person.lead_needed_at(station) or not register.stations[station].has_learners:
        return None
    return asked(register.rules, practice.get((person.pk, station), Practice()))


def asked(rules: Rules, done: Practice) -> Readiness:
    """What was done beside what the club asks. No query."""
    return Readiness(done, rules.ready_nights, rules.ready_hours)
