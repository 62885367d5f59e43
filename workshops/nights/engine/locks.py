"""What was fixed by hand: kept, or refused with the name of the rule it stands against."""

from __future__ import annotations

from inventory.engines.stop import Seconds
from workshops.nights.engine import model_gates as gates
from workshops.nights.engine.assembly import assemble
from workshops.nights.engine.board import Board
from workshops.nights.engine.placings import Lock, Placing, Role, Watching
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.rules import RULES, title

# rules that more people around cannot mend: a lock against one of them is refused at once
_FINAL = (
    "sign_off", "barred", "prerequisites", "minimum_age", "presence", "breaks",
    "personal_limits", "minor_hours", "supervision", "last_spark", "out_of_service", "one_place",
    "fire_watch_only", "hot_and_straw", "benches", "tool_count", "floor_places",
)  # fmt: skip
# rules that need other people: tried one by one, the likeliest to be meant first
_TOGETHER = (
    "fire_watch", "learner_beside_lead", "buddy", "supervision", "hot_and_straw", "crew_minimum",
    "minor_hours", "floor_places", "tool_count", "out_of_service", "one_place", "crew_maximum",
)  # fmt: skip


class LockRefused(ValueError):
    """A placing fixed by hand that cannot be kept: ``rule`` is its name in the rules."""

    def __init__(self, rule: str, message: str) -> None:
        self.rule = rule
        self.message = message
        super().__init__(message)


def check_locks(problem: Problem) -> None:
    """Look at what was fixed by hand, alone and together, by the rules.

    Raises
    ------
    LockRefused
        With the first rule broken that other people's placings cannot mend.
    """
    board = locked_board(problem)
    for name in _FINAL if problem.locks else ():
        # The first is enough to say what to let go; after that everything looks different.
        for breach in RULES[name](board):
            raise LockRefused(name, breach.message)


def locked_board(problem: Problem) -> Board:
    """A board with nothing on it but what was fixed by hand."""
    placings, watch = [], []
    taken: dict[tuple[int, str], int] = {}
    for lock in problem.locks:
        station = problem.station[lock.station]
        if station.is_fire_watch:
            span = problem.blocks[lock.block]
            # No room yet: which one has sparks is for the plan to say.
            watch.append(Watching(lock.person, "", lock.block, span.start, span.end))
            continue
        count = taken.get((lock.block, lock.station), 0)
        taken[lock.block, lock.station] = count + 1
        role = _role(problem, lock)
        # Filled one bench after the other; too many for all of them is the rule "benches".
        bench = count // station.crew_max + 1
        placings.append(Placing(lock.person, lock.block, lock.station, bench, role))
    return Board(problem, tuple(placings), tuple(watch))


def _role(problem: Problem, lock: Lock) -> Role:
    if lock.role is not None:
        return lock.role
    person, station = problem.person[lock.person], problem.station[lock.station]
    return Role.LEARNS if gates.may_learn(problem, person, station) else Role.WORKS


def check_together(problem: Problem, stop: Seconds) -> None:
    """Look whether everything fixed can stand in one plan, whatever that plan makes.

    Raises
    ------
    LockRefused
        With the rule in the way. When the time is up before a plan is found, it is refused.
    """
    check_locks(problem)
    if not assemble(problem, is_making=False).programme.solve(stop).has_values():
        refuse_together(problem, stop)


def refuse_together(problem: Problem, stop: Seconds) -> None:
    """Find the rule that keeps the fixed placings from standing together, and refuse them.

    Raises
    ------
    LockRefused
        With the first rule without which they could.
    """
    for name in _TOGETHER:
        # Without pieces: whether they can stand is asked, not what they would make.
        model = assemble(problem, frozenset({name}), is_making=False)
        if model.programme.solve(stop).has_values():
            raise LockRefused(name, f"What was fixed by hand cannot stand: {title(name)}.")
    message = "What was fixed by hand cannot stand together, against more than one rule."
    raise LockRefused("locks_kept", message)
