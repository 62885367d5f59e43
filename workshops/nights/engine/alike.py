"""People whom no rule and no pace tells apart, so that the model can count them together."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace

from workshops.nights.engine import model_gates as gates
from workshops.nights.engine.people import Level, Person
from workshops.nights.engine.problem import Problem


@dataclass(frozen=True)
class Group:
    """People alike tonight, by id, and what each of them may do.

    ``works``, ``learns``, ``leads`` are ids of stations; ``rates`` of stations where the
    person may work or learn; ``levels`` held there; ``blocks`` and ``hot_blocks`` those in
    which a placing is possible; ``may_watch`` the fire watch.
    """

    members: tuple[Person, ...]
    works: frozenset[str]
    learns: frozenset[str]
    leads: frozenset[str]
    rates: dict[str, float]
    levels: dict[str, Level | None]
    blocks: frozenset[int]
    hot_blocks: frozenset[int]
    may_watch: bool
    is_adult: bool
    needs_company: bool = False

    @property
    def size(self) -> int:
        """How many people it has."""
        return len(self.members)

    @property
    def first(self) -> Person:
        """One of them, to look at."""
        return self.members[0]


def groups(
    problem: Problem, off: frozenset[str] = gates.NOTHING, *, are_single: bool = False
) -> tuple[Group, ...]:
    """Everybody who may do anything at all, in groups of people alike, in order of id.

    ``are_single`` keeps everybody apart; ``off`` names rules left out.
    """
    alone = {person.id for person in problem.people} if are_single else _told_apart(problem)
    found: dict[object, list[Person]] = defaultdict(list)
    facts: dict[object, Group] = {}
    for person in problem.people:
        group = _facts(problem, person, off)
        if not group.blocks or not (group.works or group.learns or group.may_watch):
            continue
        # The id only of those who must stay single; an empty one lets the others fall together.
        key = (_key(group, person), person.id if person.id in alone else "")
        found[key].append(person)
        facts.setdefault(key, group)
    return tuple(_joined(facts[key], members) for key, members in found.items())


def _told_apart(problem: Problem) -> set[str]:
    """Minors, their guardians, and people fixed by hand stay single."""
    single = {person.id for person in problem.people if not problem.is_adult(person)}
    for person in problem.people:
        single.update(person.guardians)
    return single | {lock.person for lock in problem.locks}


def _facts(problem: Problem, person: Person, off: frozenset[str]) -> Group:
    works, learns = set(), set()
    for station in problem.benches:
        if set(gates.stops(problem, person, station)) - off:
            continue
        if "sign_off" in off or gates.may_work(problem, person, station):
            works.add(station.id)
        else:
            learns.add(station.id)
    leads = {each for each in works if gates.may_lead(problem, person, problem.station[each])}
    duty = problem.watch_station
    may_watch = duty is not None and not set(gates.stops(problem, person, duty)) - off
    numbers = range(len(problem.blocks))
    blocks = {b for b in numbers if not set(gates.stops_in(problem, person, b, is_hot=False)) - off}
    hot = {b for b in blocks if not set(gates.stops_in(problem, person, b, is_hot=True)) - off}
    open_to = sorted(works | learns)
    return Group(
        members=(person,),
        works=frozenset(works),
        learns=frozenset(learns),
        # To ask what the sign-offs cost, everybody is taken as able to do all of it.
        leads=frozenset(works if "sign_off" in off else leads),
        rates={each: person.rate(each) for each in open_to},
        levels={each: gates.level_tonight(problem, person, each) for each in open_to},
        blocks=frozenset(blocks),
        hot_blocks=frozenset(hot),
        may_watch=may_watch,
        is_adult=problem.is_adult(person),
        needs_company=person.needs_company,
    )


def _key(group: Group, person: Person) -> object:
    return (
        group.works, group.learns, group.leads, tuple(group.rates.items()),
        tuple(group.levels.items()), group.blocks, group.hot_blocks,
        group.may_watch, group.needs_company, person.present, person.likes, person.last_stations,
    )  # fmt: skip


def _joined(group: Group, members: list[Person]) -> Group:
    return replace(group, members=tuple(members))
