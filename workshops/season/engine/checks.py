"""What an outlook problem must satisfy before it exists: each check names field and reason."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # the dataclasses call these checks while they are born
    from workshops.season.engine.problem import Problem


def is_date(text: str, name: str) -> None:
    """Refuse what is not a calendar day written YYYY-MM-DD."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        day = None
    if day is None or day.isoformat() != text:
        raise ValueError(f"{name} must be dates written YYYY-MM-DD, not {text!r}")


def in_range(value: float | None, low: float, high: float, name: str) -> None:
    """Refuse a number outside ``low`` to ``high``; None passes."""
    if value is not None and not low <= value <= high:
        raise ValueError(f"{name} must be from {low} to {high}, not {value}")


def each_in_range(values: Iterable[float], low: float, high: float, name: str) -> None:
    """Refuse a list that has a number outside ``low`` to ``high``."""
    for value in values:
        in_range(value, low, high, name)


def is_share(part: int, whole: int, part_name: str, whole_name: str) -> None:
    """Refuse a part below 0 or above its whole."""
    if not 0 <= part <= whole:
        raise ValueError(f"{part_name} must be from 0 to {whole_name} ({whole}), not {part}")


def names_are_known(problem: Problem) -> None:
    """Refuse doubled ids and names that point at nothing."""
    stations = _unique((s.id for s in problem.stations), "stations")
    items = _unique((i.id for i in problem.items), "items")
    operations = _unique((o.id for o in problem.operations), "operations")
    _unique((v.id for v in problem.variants), "variants")
    _unique((p.id for p in problem.people), "people")
    _unique((n.date for n in problem.nights), "nights")
    for operation in problem.operations:
        place = f"operations {operation.id}"
        _known([operation.station], stations, f"{place} station")
        _known([operation.makes, *operation.uses], items, f"{place} makes and uses")
    for variant in problem.variants:
        _known(variant.parts, items, f"variants {variant.id} parts")
    for person in problem.people:
        named = [*person.alone, *person.leads, *person.learns, *person.lapses, *person.pace]
        _known(named, operations, f"people {person.id}")
    for night in problem.nights:
        _known(night.closed, operations, f"nights {night.date} closed")
    _known((a.item for a in problem.arrivals), items, "arrivals item")


def operations_flow(problem: Problem) -> None:
    """Refuse two operations that make one item, and parts that are made of themselves."""
    _unique((o.makes for o in problem.operations), "operations makes")
    uses = {operation.makes: set(operation.uses) for operation in problem.operations}
    # Take away what can be made from what is left of the tree; a rest is a circle.
    while uses:
        ready = [item for item, parts in uses.items() if not parts & uses.keys()]
        if not ready:
            raise ValueError(f"operations go round in a circle through {', '.join(sorted(uses))}")
        for item in ready:
            del uses[item]


def _unique(names: Iterable[str], place: str) -> set[str]:
    seen: set[str] = set()
    for name in names:
        if name in seen:
            raise ValueError(f"{place} has {name!r} twice")
        seen.add(name)
    return seen


def _known(names: Iterable[str], known: set[str], place: str) -> None:
    for name in names:
        if name not in known:
            raise ValueError(f"{place} names {name!r}, which is not in the problem")
