"""The engines by name, and reading a problem file for one of them."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from inventory.cutting.engine.problem import CutProblem
from inventory.cutting.engine.solve import solve as solve_cutlist
from inventory.engines.stop import Seconds
from inventory.engines.strict import ProblemRefused
from inventory.needs.engine.problem import NeedsProblem
from inventory.needs.engine.solve import solve as solve_needs
from workshops.nights.engine.locks import LockRefused
from workshops.nights.engine.problem import Problem as PlacingProblem
from workshops.nights.engine.solve import solve as solve_placing
from workshops.season.engine.problem import from_json as outlook_from_json
from workshops.season.engine.solve import solve as solve_outlook


@dataclass(frozen=True)
class Engine:
    """One engine: how its problems are read, and its public door."""

    read: Callable[[object], Any]
    solve: Callable[..., Any]


ENGINES = {
    "placing": Engine(PlacingProblem.from_json, solve_placing),
    "cutlist": Engine(CutProblem.from_json, solve_cutlist),
    "needs": Engine(NeedsProblem.from_json, solve_needs),
    "outlook": Engine(outlook_from_json, solve_outlook),
}


class FileRefused(ValueError):
    """A problem file that cannot be used, with the place and the reason."""


def solve_file(engine: str, path: Path, *, stop: Seconds, seed: int) -> Any:
    """The engine's plan for the problem in the file, in plain values for JSON.

    Raises
    ------
    FileRefused
        When the file cannot be read, is no JSON, or does not describe such a problem.
    """
    door = ENGINES[engine]
    try:
        problem = door.read(_problem_in(read_json(path)))
        return door.solve(problem, stop=stop, seed=seed).to_json()
    except (ProblemRefused, LockRefused) as refused:
        raise FileRefused(f"{path}: {refused}") from refused


def read_json(path: Path) -> object:
    """What stands in the file.

    Raises
    ------
    FileRefused
        Naming the line when it is no JSON, the key when one is given twice.
    """
    try:
        text = path.read_text(encoding="utf-8")
        return json.loads(text, object_pairs_hook=_once, parse_constant=_no_number)
    except OSError as error:
        raise FileRefused(f"{path}: cannot be read ({error.strerror})") from error
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise FileRefused(f"{path}: is not JSON at {where}: {error.msg}") from error
    except (UnicodeDecodeError, RecursionError) as error:
        raise FileRefused(f"{path}: is not JSON in UTF-8") from error
    except ProblemRefused as refused:
        raise FileRefused(f"{path}: {refused}") from refused


def _problem_in(given: object) -> object:
    # A saved case holds its problem beside the bounds that a plan of it must keep.
    return given["problem"] if isinstance(given, dict) and "problem" in given else given


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    # JSON keeps the last of two equal keys and says nothing; a typing error would be lost.
    names = [name for name, _ in pairs]
    for name in names:
        if names.count(name) > 1:
            raise ProblemRefused(name, "is given twice in one object")
    return dict(pairs)


def _no_number(text: str) -> None:
    raise ProblemRefused("problem", f"{text} is not a number that can be used")
