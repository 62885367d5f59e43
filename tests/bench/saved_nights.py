"""Sixty saved nights, small to build day, each with its plan and what bounds it.

``python3 -m tests.bench.saved_nights`` makes them anew. A file leaves out every value that is
the usual one. ``bites`` names the rules without which the night could make more.
"""

from __future__ import annotations

import json
import random
import sys
from collections.abc import Iterator
from dataclasses import MISSING, Field, dataclass, fields, is_dataclass, replace
from enum import Enum
from pathlib import Path
from typing import Any

from inventory.engines.stop import Seconds
from tests.bench.placing_nights import night
from tests.bench.themes import THEMES, as_it_is
from tests.workshops.nights.engine.rule_cases import CASES
from workshops.nights.engine.assembly import FAMILIES, assemble
from workshops.nights.engine.greedy import first_come
from workshops.nights.engine.making import standing
from workshops.nights.engine.people import Level, Person
from workshops.nights.engine.placings import Lock, Placing, Role, Watching
from workshops.nights.engine.plan import Plan
from workshops.nights.engine.problem import Before, Problem
from workshops.nights.engine.solve import solve

FOLDER = Path(__file__).parents[2] / "fixtures/engine_cases/placing"
NIGHTS, RULE_FOLDER = FOLDER / "nights", FOLDER / "rules"
# people, blocks, benches, how many nights of the size
SIZES = ((12, 3, 7, 20), (16, 4, 12, 8), (30, 4, 12, 22), (60, 5, 24, 6), (120, 6, 30, 4))
BY_GATES = (
    "sign_off", "barred", "prerequisites", "minimum_age", "presence", "breaks", "personal_limits",
    "last_spark", "fire_watch_only",
)  # fmt: skip
SMALL = 12  # people: of these nights it is asked which rules bite


@dataclass(frozen=True)
class Saved:
    """A saved night: the problem, its plan, and what is known of the best plan."""

    name: str
    problem: Problem
    placings: tuple[Placing, ...]
    watch: tuple[Watching, ...]
    worth: float
    bound: float
    first_come: float
    bites: tuple[str, ...]


def saved() -> Iterator[Saved]:
    """Every saved night, by name."""
    for path in sorted(NIGHTS.glob("*.json")):
        raw = json.loads(path.read_text(encoding="utf-8"))
        yield Saved(
            name=path.stem,
            problem=Problem.from_json(raw["problem"]),
            placings=tuple(
                Placing(row[0], row[1], row[2], row[3], Role(row[4])) for row in raw["placings"]
            ),
            watch=tuple(Watching(*row) for row in raw["watch"]),
            worth=raw["worth"],
            bound=raw["bound"],
            first_come=raw["first_come"],
            bites=tuple(raw["bites"]),
        )


def compact(value: Any) -> Any:
    """The plain form without the values that are the usual ones."""
    if is_dataclass(value) and not isinstance(value, type):
        return {
            each.name: compact(getattr(value, each.name))
            for each in fields(value)
            if getattr(value, each.name) != _usual(each)
        }
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, dict):
        return {str(name): compact(part) for name, part in value.items()}
    return [compact(part) for part in value] if isinstance(value, list | tuple) else value


def _usual(field: Field[Any]) -> Any:
    if field.default is not MISSING:
        return field.default
    return field.default_factory() if field.default_factory is not MISSING else MISSING


def full_night(seed: int, people: int, blocks: int, benches: int) -> Problem:
    """A night of ``placing_nights`` with the rules that it leaves out, some on each."""
    draw = random.Random(f"full {seed} {people}")
    problem = night(seed, people, blocks, benches)
    problem = replace(
        problem,
        people=tuple(_with_more(draw, problem, each) for each in problem.people),
        club=replace(
            problem.club, minors_per_adult=draw.choice((1, 3, 5)),
            guardian_required=draw.random() < 0.4,
            minor_max_minutes=draw.choice((None, 45, 90, 135)),
            learner_ratio=draw.choice((1, 2)), watch_minutes=draw.choice((30, 45, 60)),
        ),
        operations=tuple(
            replace(each, level_needed=Level.MAY_LEAD)
            if each.id == "weld_head" and draw.random() < 0.3 else each
            for each in problem.operations
        ),
        stations=tuple(
            replace(each, closed_because="the guard is off for repair")
            if each.id in ("bend", "ring", "roll") and draw.random() < 0.1 else each
            for each in problem.stations
        ),
        tools=tuple(_fewer(draw, each) for each in problem.tools),
        floor_places=draw.choice((problem.floor_places, max(4, people * 6 // 10))),
    )  # fmt: skip
    theme = THEMES[seed % len(THEMES)] if people == SMALL else as_it_is
    return theme(_begun(draw, _locked(draw, _one_room(draw, problem))))


def _with_more(draw: random.Random, problem: Problem, person: Person) -> Person:
    if not problem.is_adult(person):
        adults = [each.id for each in problem.people if problem.is_adult(each)]
        return replace(person, guardians=(draw.choice(adults),) if draw.random() < 0.7 else ())
    return replace(person, needs_company=draw.random() < 0.06)


def _fewer(draw: random.Random, tool: Any) -> Any:
    count = max(1, tool.count - draw.randrange(3))
    return replace(tool, count=count, out_of_service=min(tool.out_of_service, count))


def _one_room(draw: random.Random, problem: Problem) -> Problem:
    """On some nights straw and steel share the one warm room."""
    if draw.random() >= 0.15:
        return problem
    rooms = tuple(replace(each, room="hall") for each in problem.stations)
    return replace(problem, stations=rooms)


def _locked(draw: random.Random, problem: Problem) -> Problem:
    """Two placings of first come, first placed fixed by hand: these can stand together."""
    if draw.random() >= 0.4:
        return problem
    found = first_come(problem).placings
    chosen = draw.sample(found, min(2, len(found)))
    fixed = tuple(Lock(each.person, each.block, each.station) for each in chosen)
    return replace(problem, locks=fixed)


def _begun(draw: random.Random, problem: Problem) -> Problem:
    """Some nights are placed again in their middle: sparks glow, straw lies about."""
    if draw.random() >= 0.2:
        return problem
    room = next(each.room for each in problem.stations if each.id == "weld")
    before = Before(sparks={room: problem.blocks[0].start - 10})
    again = replace(problem, before=before)
    board = first_come(again)
    # Only where somebody can keep the watch that goes on.
    return again if any(each.room == room for each in board.watch) else problem


def bites(problem: Problem, bound: float) -> Iterator[str]:
    """The rules without which the night could make more than it ever can with them."""
    before = standing(problem)[0]
    for rule in (*FAMILIES, *BY_GATES):
        model = assemble(problem, frozenset({rule}))
        model.programme.offset = -before
        if model.programme.relaxed(Seconds(2)).objective <= bound + 1:
            continue
        best = model.programme.solve(Seconds(4), gap=0.001)
        if best.has_values() and best.objective > bound + 1:
            yield rule


def make() -> None:
    """Solve every night and write its file."""
    NIGHTS.mkdir(parents=True, exist_ok=True)
    number = 0
    for people, blocks, benches, count in SIZES:
        for seed in range(count):
            number += 1
            problem = full_night(seed, people, blocks, benches)
            plan = solve(problem, Seconds(20))
            if not plan.is_legal():
                raise AssertionError(f"night {number} breaks rules: {plan.breaches}")
            path = NIGHTS / f"{number:02d}_{people}_people_{blocks}_blocks.json"
            path.write_text(json.dumps(_kept(plan), separators=(",", ":")) + "\n", encoding="utf-8")
            sys.stdout.write(f"{path.stem} {plan.seconds:.2f} s, gap {plan.gap:.3%}\n")
            sys.stdout.flush()
    save_rules()


def _kept(plan: Plan) -> dict[str, Any]:
    is_small = len(plan.problem.people) <= SMALL
    return {
        "worth": plan.output.worth,
        "bound": round(plan.bound, 6),
        "first_come": plan.first_come,
        "bites": sorted(bites(plan.problem, plan.bound)) if is_small else [],
        "placings": [
            [each.person, each.block, each.station, each.bench, each.role.value]
            for each in plan.placings
        ],
        "watch": [
            [each.person, each.room, each.block, each.start, each.end] for each in plan.watch
        ],
        "problem": compact(plan.problem),
    }


def rule_files() -> dict[str, str]:
    """Each hard rule alone, feasible and not: what its file holds, by its name."""
    found: dict[str, list[dict[str, Any]]] = {}
    for case in CASES:
        found.setdefault(case.rule, []).append({
            "most": case.most, "fewer": case.fewer,
            "allowed": compact(case.allowed), "against": compact(case.against),
        })  # fmt: skip
    return {rule: json.dumps(cases, separators=(",", ":")) + "\n" for rule, cases in found.items()}


def save_rules() -> None:
    """Write the file of each rule."""
    RULE_FOLDER.mkdir(parents=True, exist_ok=True)
    for rule, text in rule_files().items():
        (RULE_FOLDER / f"{rule}.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    make()
