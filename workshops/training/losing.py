"""What the winter loses if a sign-off lapses: the pace of the winter, asked twice.

Once as things stand, where every sign-off ends on its day, and once with this one signed
again. It is the average winter, without luck, and everybody else's lapse as they would; so
it compares, and promises nothing. Two people who can stand in for one another each cost
little, and both together much: ``everybody`` is therefore asked too.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from inventory.engines.stop import Seconds
from inventory.places.models import Shop
from workshops.people.facts import PersonFacts
from workshops.people.gate import Register, register_on
from workshops.people.names import told_apart
from workshops.season.engine.problem import Person, Problem
from workshops.season.engine_pace.solve import solve
from workshops.season.loading import problem_of
from workshops.season.queries import progress_of, winter_of
from workshops.stations.models import Level
from workshops.training.refusals import WeighingRefused

MOST = 30  # lines weighed at once: each takes the pace a second of its time at most
EACH = Seconds(5)
ALL = 60.0  # seconds for the whole of it: a large club weighs what ends first
# Signing again mends the first, the door the second.
MENDED = frozenset({"sign_off", "waiver"})


@dataclass(frozen=True, slots=True)
class Loss:
    """Finished sets fewer at the end of the winter if this sign-off is not signed again."""

    person: int
    name: str
    station: int
    station_name: str
    ended: date
    sets: float


@dataclass(frozen=True, slots=True)
class Weighing:
    """All that lapses, weighed one by one, and together."""

    sets: float
    if_all: float
    losses: list[Loss]
    left_out: int = 0


def weigh(
    shop: Shop, today: date, *, say: Callable[[int], None] = lambda _percent: None
) -> Weighing:
    """What each sign-off that lapses costs the winter; ``say`` hears how far it is, in per cent.

    Raises
    ------
    WeighingRefused
        When there is no winter, no target, or no night to come.
    """
    problem, register = _asked(shop, today)
    due = list(_due(register, problem))
    base = solve(problem, stop=EACH).sets
    losses: list[Loss] = []
    names = told_apart(register.people.values())
    began = time.monotonic()
    for number, (facts, station, ended) in enumerate(due[:MOST]):
        if time.monotonic() - began > ALL:
            break
        again = signed_again(problem, register, [(facts.pk, station)])
        sets = solve(again, stop=EACH).sets - base
        losses.append(
            Loss(
                facts.pk,
                names[facts.pk],
                station,
                register.stations[station].name,
                ended,
                max(0.0, sets),
            )
        )
        say(10 + 80 * (number + 1) // min(MOST, len(due)))
    everybody = signed_again(problem, register, [(facts.pk, at) for facts, at, _ in due])
    if_all = solve(everybody, stop=EACH).sets if due else base
    losses.sort(key=lambda each: (-each.sets, each.ended, each.name))
    return Weighing(base, if_all, losses, len(due) - len(losses))


def _asked(shop: Shop, today: date) -> tuple[Problem, Register]:
    winter = winter_of(shop, today)
    if winter is None:
        raise WeighingRefused("There is no winter yet: begin one on its page.")
    if not progress_of(winter).wanted:
        raise WeighingRefused("The winter has no target yet: set it on the winter's page.")
    problem = problem_of(winter, today)
    if not problem.nights or not problem.variants:
        raise WeighingRefused("No night is to come, or no operation makes what the winter wants.")
    return problem, register_on(shop, today)


def _due(register: Register, problem: Problem) -> Iterator[tuple[PersonFacts, int, date]]:
    """What has lapsed, or ends before the last night of the winter, at stations that make."""
    last = date.fromisoformat(problem.nights[-1].date)
    making = {int(each.station) for each in problem.operations}
    found = [
        (facts, station, signed.valid_until)
        for facts in register.people.values()
        if facts.is_active
        for station, signed in facts.signed.items()
        if signed.valid_until
        and signed.valid_until < last
        and station in making
        and register.answer(facts.pk, station).ok_but_for(MENDED)
    ]
    yield from sorted(found, key=lambda each: (each[2], each[0].pk, each[1]))


def signed_again(problem: Problem, register: Register, lines: Sequence[tuple[int, int]]) -> Problem:
    """The rest of the winter with these (person, station) signed again at their level."""
    stations: dict[str, set[str]] = {}
    for person, station in lines:
        stations.setdefault(str(person), set()).add(str(station))
    people = tuple(
        _with(problem, register, each, stations.get(each.id, set())) for each in problem.people
    )
    return replace(problem, people=people)


def _with(problem: Problem, register: Register, person: Person, stations: set[str]) -> Person:
    if not stations:
        return person
    facts = register.people[int(person.id)]
    alone, leads, learns = set(person.alone), set(person.leads), set(person.learns)
    lapses = dict(person.lapses)
    for operation in problem.operations:
        if operation.station not in stations:
            continue
        lapses.pop(operation.id, None)
        level = facts.signed[int(operation.station)].level
        needed = register.stations[int(operation.station)].level_needed
        if level >= Level.MAY_LEAD:
            leads.add(operation.id)
        if needed is None or level >= needed:
            alone.add(operation.id)
            learns.discard(operation.id)
        elif level == Level.WITH_A_LEAD and operation.id not in alone:
            learns.add(operation.id)
    return replace(person, alone=_ids(alone), leads=_ids(leads), learns=_ids(learns), lapses=lapses)


def _ids(found: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(found))
