"""The hard rules of a night, each a named function that finds the breaches of a plan.

The solver never uses these: they check it, and they check what somebody moves by hand. "No
rule stops this" means that none of them found a breach; it says nothing more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from workshops.nights.engine import rules_benches, rules_night, rules_people
from workshops.nights.engine.board import Board, Breach
from workshops.nights.engine.placings import Placing, Watching
from workshops.nights.engine.problem import Problem

__all__ = ["RULES", "Board", "Breach", "breaches", "title"]

Rule = Callable[[Board], Iterator[Breach]]

_ALL: tuple[Rule, ...] = (
    rules_people.sign_off,
    rules_people.barred,
    rules_people.prerequisites,
    rules_people.minimum_age,
    rules_people.minor_hours,
    rules_night.supervision,
    rules_benches.learner_beside_lead,
    rules_benches.learner_ratio,
    rules_benches.buddy,
    rules_benches.crew_minimum,
    rules_benches.crew_maximum,
    rules_benches.benches,
    rules_benches.tool_count,
    rules_benches.out_of_service,
    rules_people.presence,
    rules_people.breaks,
    rules_people.personal_limits,
    rules_people.alarm_hand,
    rules_night.last_spark,
    rules_night.fire_watch,
    rules_night.fire_watch_only,
    rules_night.hot_and_straw,
    rules_people.one_place,
    rules_benches.floor_places,
    rules_benches.operation_level,
    rules_night.locks_kept,
)
RULES: dict[str, Rule] = {rule.__name__: rule for rule in _ALL}

_TITLES = {
    "sign_off": "A current sign-off at the level the station asks for",
    "barred": "No work where a bar or suspension is in force",
    "prerequisites": "Current sign-offs for what a station builds on",
    "minimum_age": "The station's minimum age",
    "minor_hours": "The club's hours for minors",
    "supervision": "Minors with a guardian or adult free to look after them",
    "learner_beside_lead": "Learners only beside somebody who may lead",
    "learner_ratio": "No more learners at a bench than its leads may have",
    "buddy": "A buddy where the station asks for one, never behind a hood",
    "crew_minimum": "Enough people at an open bench",
    "crew_maximum": "No more people than a bench holds",
    "benches": "No more benches than the station has",
    "tool_count": "No more tools than the shop owns",
    "out_of_service": "Nothing that is closed or out of service",
    "presence": "Only while in the building: arrival and leaving",
    "breaks": "Nobody placed in their break",
    "personal_limits": "Personal limits: dust, seated work, heavy lifting",
    "alarm_hand": "Nobody who asked for a hand at the alarm alone in a room",
    "last_spark": "Hot work ends by the last spark",
    "fire_watch": "A fire watch from the first spark to the end of the watch",
    "fire_watch_only": "The fire watch does nothing else",
    "hot_and_straw": "Hot work and straw never share a room in one night",
    "one_place": "One place at a time",
    "floor_places": "No more people than the floor holds",
    "operation_level": "Nothing counted on that nobody there is signed off to make",
    "locks_kept": "What was fixed by hand stays",
}


def title(rule: str) -> str:
    """The rule in words, for a list of what was checked."""
    return _TITLES[rule]


def breaches(
    problem: Problem,
    placings: Iterable[Placing],
    watch: Iterable[Watching] = (),
) -> tuple[Breach, ...]:
    """Every breach of every rule by these placings; none: no rule stops this.

    Raises
    ------
    ValueError
        When a placing names a person, station or block that the night does not have.
    """
    return breaches_of(Board(problem, tuple(placings), tuple(watch)))


def breaches_of(board: Board) -> tuple[Breach, ...]:
    """Every breach of every rule on a board, rule by rule."""
    return tuple(breach for rule in _ALL for breach in rule(board))
