"""At the door: what to see to before somebody works, and what to do about it now.

Nothing here keeps anybody off the roll, which is the evacuation list; the gate keeps from work.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from workshops.nights.models import Placing, RollLine
from workshops.nights.standing import answer_for
from workshops.people.facts import PersonFacts
from workshops.people.gate import Register
from workshops.people.models import Guardianship, Person
from workshops.people.young import hours_on


class Todo(StrEnum):
    """What can be done about a caution at the door."""

    SIGN = "sign"  # the waiver: have it signed here and now
    RING = "ring"  # a guardian: ring them up
    PAPERS = "papers"  # the consent: their papers
    LOOK = "look"  # nothing to press: know it


@dataclass(frozen=True, slots=True)
class Caution:
    """What to see to, in a sentence with the name in it, and what can be done now."""

    text: str
    todo: Todo = Todo.LOOK


@dataclass(frozen=True, slots=True)
class Collector:
    """Who takes a minor home: somebody of the list, or a name as it was said."""

    person: Person | None = None
    word: str = ""

    @property
    def is_named(self) -> bool:
        """Whether anybody is named at all."""
        return self.person is not None or bool(self.word.strip())


def collecting_caution(line: RollLine, *, is_minor: bool) -> str:
    """What to say of whoever took a minor home; empty where that person may. 1 query at most."""
    if not is_minor:
        return ""
    name = line.person.short_name
    if line.collected_by_id is None and not line.collected_word:
        return f"{name} is a minor: nobody was written down who took them home."
    named = Guardianship.objects.filter(minor=line.person, may_collect=True)
    if line.collected_by_id and named.filter(guardian=line.collected_by_id).exists():
        return ""
    who = line.collected_by or line.collected_word
    return f"{who} is not named as somebody who may collect {name}: ring the guardian now."


def cautions_for(
    register: Register, facts: PersonFacts, placings: Iterable[Placing], inside: Collection[int]
) -> tuple[Caution, ...]:
    """What to see to before this person works; empty when there is nothing. No query.

    Parameters
    ----------
    placings
        Where they are placed tonight.
    inside
        The ids of those in the building, to know whether a guardian is among them.
    """
    found = [
        *_papers(register, facts),
        *_bars(register, facts),
        *_misplaced(register, facts, placings),
        *_young(register, facts, inside),
    ]
    return tuple({each.text: each for each in found}.values())


def _papers(register: Register, facts: PersonFacts) -> Iterator[Caution]:
    name = _short(facts)
    if register.rules.waiver_needed and not facts.has_waiver:
        yield Caution(f"{name} has no waiver that counts: sign it before any work.", Todo.SIGN)
    if facts.is_adult or not register.rules.consent_needed or facts.has_consent:
        return
    # Without a guardian there is nobody to have consented: the missing guardian says it all.
    if facts.guardians:
        yield Caution(f"{name} has no consent of a guardian on paper.", Todo.PAPERS)


def _bars(register: Register, facts: PersonFacts) -> Iterator[Caution]:
    name = _short(facts)
    for bar in facts.bars:
        yield Caution(f"{name} is barred: {bar.reason}.")
    for bar in facts.only_with_a_lead:
        if bar.station in register.stations:
            station = register.stations[bar.station].name
            yield Caution(f"{name} works only beside a lead at {station}: {bar.reason}.")


def _misplaced(
    register: Register, facts: PersonFacts, placings: Iterable[Placing]
) -> Iterator[Caution]:
    """The stations of tonight's plan at which the gate stops the person by now."""
    for row in placings:
        answer = answer_for(register, row)
        # A missing waiver or consent is told once, and a bar above.
        if not answer.ok_but_for({"waiver", "consent", "barred"}):
            station = register.stations[row.station_id].name
            yield Caution(
                f"{_short(facts)} is placed at {station} tonight and must not start there: "
                f"{answer.reasons[0].text} Place somebody else."
            )


def _young(register: Register, facts: PersonFacts, inside: Collection[int]) -> Iterator[Caution]:
    if facts.is_adult:
        return
    name = _short(facts)
    if register.rules.guardian_must_be_present and set(facts.guardians).isdisjoint(inside):
        yield Caution(f"{name} counts as a minor and no guardian is in yet.", Todo.RING)
    hours = hours_on(register.on, facts.age or 0)
    if register.rules.young_hours and hours:
        yield Caution(f"{name} stops work by {hours.latest:%H:%M}, by the club's own policy.")


def _short(facts: PersonFacts) -> str:
    # As it is called across the shop; a page that shows two of one name tells them apart.
    return f"{facts.first_name} {facts.last_name[:1]}." if facts.last_name else facts.first_name
