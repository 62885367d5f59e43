"""What stands still whatever the luck: said before anybody wonders at a band of nothing."""

from __future__ import annotations

from workshops.season.engine.flow import pieces_wanted, wanted_sets
from workshops.season.engine.problem import Operation, Problem
from workshops.season.engine.shop import may_run


def gaps_of(problem: Problem) -> tuple[str, ...]:
    """A sentence for each thing that no winter can get past; empty when there is none."""
    if not problem.nights:
        return ()
    wanted = pieces_wanted(problem, wanted_sets(problem))
    needed = [operation for operation in problem.operations if wanted[operation.makes] > 0]
    return (
        *(f"Nobody may do {o.title} alone." for o in needed if not _is_staffed(problem, o)),
        *(f"No night to come is open to {o.title}." for o in needed if not _is_open(problem, o)),
        *_no_watch(problem, needed),
        *_never_there(problem, wanted),
    )


def _is_staffed(problem: Problem, operation: Operation) -> bool:
    first = min(night.date for night in problem.nights)
    return any(
        operation.id in (*person.alone, *person.leads)
        and first < person.lapses.get(operation.id, "9999-12-31")
        for person in problem.people
    )


def _is_open(problem: Problem, operation: Operation) -> bool:
    return any(may_run(operation, night) for night in problem.nights)


def _no_watch(problem: Problem, needed: list[Operation]) -> list[str]:
    hot = [operation.title for operation in needed if operation.hot]
    if not hot or any(person.may_watch for person in problem.people):
        return []
    return [f"Nobody holds the fire-watch sign-off, so there is no {' and no '.join(hot)}."]


def _never_there(problem: Problem, wanted: dict[str, float]) -> list[str]:
    made = {operation.makes for operation in problem.operations}
    coming = made | {arrival.item for arrival in problem.arrivals}
    return [
        f"There is no {item.title}, none is on its way and nobody here makes it."
        for item in problem.items
        if wanted[item.id] > 0 and not item.on_hand and item.id not in coming
    ]
