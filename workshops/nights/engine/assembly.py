"""The whole model of a night, family of rules by family of rules."""

from __future__ import annotations

from collections.abc import Callable

from workshops.nights.engine import (
    model_hot_work,
    model_locks,
    model_minors,
    model_places,
    model_production,
)
from workshops.nights.engine.model import Model, empty_model
from workshops.nights.engine.model_gates import NOTHING
from workshops.nights.engine.problem import Problem

# by the name of the rule in rules.py that checks the same
FAMILIES: dict[str, Callable[[Model], None]] = {
    "one_place": model_places.one_place,
    "crew_minimum": model_places.crew_minimum,
    "crew_maximum": model_places.crew_maximum,
    "learner_beside_lead": model_places.learner_ratio,
    "tool_count": model_places.tool_count,
    "out_of_service": model_places.out_of_service,
    "floor_places": model_places.floor_places,
    "buddy": model_places.buddy,
    "alarm_hand": model_places.alarm_hand,
    "fire_watch": model_hot_work.fire_watch,
    "hot_and_straw": model_hot_work.hot_and_straw,
    "minor_hours": model_minors.minor_hours,
    "supervision": model_minors.supervision,
    "locks_kept": model_locks.locks,
}


def assemble(
    problem: Problem,
    off: frozenset[str] = NOTHING,
    *,
    is_making: bool = True,
    are_single: bool = False,
) -> Model:
    """The model of the night without the rules named in ``off``.

    Without ``is_making`` there are no pieces and no objective: only who could stand where.
    ``are_single``: one column a person, nobody counted together.
    """
    model = empty_model(problem, off, are_single=are_single)
    model_hot_work.watch_columns(model)
    model_hot_work.hot_blocks(model)
    for name, family in FAMILIES.items():
        if name not in off:
            family(model)
    if is_making:
        model_production.production(model)
    return model
