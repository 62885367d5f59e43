"""The floors of the house and the rules of its imports, checked on source text.

``breaches`` reads files without importing them, so a planted file can be checked too.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent

# Lowest first: a slice imports itself and what stands to its left.
INVENTORY = ["measures", "engines", "places", "materials", "ledger", "readings", "stocktake",
             "cutting", "deliveries", "needs"]  # fmt: skip
WORKSHOPS = ["common", "access", "club", "stations", "people", "nights", "counting", "quality",
             "trouble", "lockup", "mine", "season", "training",
             "tonight", "flow", "stock", "paper", "home"]  # fmt: skip
FLOORS = [f"inventory.{name}" for name in INVENTORY] + [f"workshops.{name}" for name in WORKSHOPS]

# The project package: settings and addresses see every slice, and no slice sees them.
PROJECT = {"asgi", "celery", "environment", "settings", "urls", "wsgi"}

# What is a slice's own: its pages, forms, jobs and registrations, for nobody else.
OWN = {"admin", "apps", "forms", "management", "tasks", "templatetags", "urls", "views"}
# Rows are changed through these alone; every other module that writes is private too.
# Orders have verbs of their own beside those of deliveries.
WRITING_DOORS = {"actions", "models", "ordering"}
# It writes through its own statements, which the words of the ORM do not show.
BOOK = {"inventory.ledger.book", "inventory.ledger.statements"}
# Shared on purpose: the ground floor, and what every page needs.
OPEN = {"inventory.measures", "inventory.engines", "workshops.common", "workshops.access"}
MAY_LOAD_LATE = {"workshops/common/pdf.py"}
PURE = ("engine", "geometry", "measures", "drawing", "pictograms")


@dataclass(frozen=True)
class Breach:
    """One import or habit that the house forbids."""

    path: str
    line: int
    says: str

    def __str__(self) -> str:
        return f"{self.path}:{self.line}: {self.says}"


def sources(root: Path = ROOT) -> Iterator[Path]:
    """Every module of the two packages, without migrations."""
    for package in ("inventory", "workshops"):
        for path in sorted((root / package).rglob("*.py")):
            if "migrations" not in path.parts:
                yield path


def breaches(path: Path, root: Path = ROOT) -> list[Breach]:
    """Everything the house forbids in one module; empty when it keeps all the rules."""
    place = path.relative_to(root).as_posix()
    tree = ast.parse(path.read_text(encoding="utf-8"), filename=place)
    found = [
        Breach(place, line, says)
        for line, module, is_late in imports(tree)
        for says in import_faults(place, module, is_late=is_late)
    ]
    return found + [Breach(place, line, says) for line, says in habits(tree)]


def imports(tree: ast.AST) -> Iterator[tuple[int, str, bool]]:
    """Line, module and whether it stands in a function, of every import for running code."""
    yield from _imports(tree, is_late=False)


def _imports(node: ast.AST, *, is_late: bool) -> Iterator[tuple[int, str, bool]]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Import):
            yield from ((child.lineno, name.name, is_late) for name in child.names)
        elif isinstance(child, ast.ImportFrom):
            yield from _from(child, is_late=is_late)
        else:
            inside = isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)
            yield from _imports(child, is_late=is_late or inside)


def _from(node: ast.ImportFrom, *, is_late: bool) -> Iterator[tuple[int, str, bool]]:
    # "from workshops.people import queries" means the module workshops.people.queries.
    dots = "." * node.level
    for name in node.names:
        yield node.lineno, f"{dots}{node.module or ''}.{name.name}", is_late


def import_faults(place: str, module: str, *, is_late: bool) -> Iterator[str]:
    """What is wrong with importing ``module`` in the file at ``place``."""
    if is_late and place not in MAY_LOAD_LATE:
        yield f"imports {module} inside a function"
    if module.startswith("."):
        yield f"imports {module} relatively"
    if module.split(".")[0] == "django" and any(part in PURE for part in place.split("/")):
        yield f"is pure computing and imports {module}"
    if module.startswith("django.db.models.signals") or module.startswith("django.dispatch"):
        yield "uses signals"
    if module.startswith("weasyprint") and place not in MAY_LOAD_LATE:
        yield "imports WeasyPrint, which only common/pdf.py does"
    yield from floor_faults(place, module)


def floor_faults(place: str, module: str) -> Iterator[str]:
    """What is wrong with the floor on which the imported module stands."""
    here, there = slice_of(place.removesuffix(".py").replace("/", ".")), slice_of(module)
    if here not in FLOORS or not module.startswith(("inventory.", "workshops.")):
        return
    if there not in FLOORS:
        if there.partition(".")[2] in PROJECT:
            yield f"imports {there} of the project, which stands above every slice"
        else:
            yield f"imports {there}, which stands on no floor: add it to tests/floors.py"
    elif FLOORS.index(there) > FLOORS.index(here):
        yield f"imports {module} from a floor above its own"
    elif there != here and there not in OPEN:
        yield from door_faults(module)


def slice_of(module: str) -> str:
    """``workshops.people.queries`` stands in ``workshops.people``."""
    return ".".join(module.split(".")[:2])


def door_faults(module: str) -> Iterator[str]:
    """What is wrong with reaching for a module of another slice.

    It may be read through ``queries`` and the reading modules around it, and changed
    through ``actions``; what is its own stays its own.
    """
    inside = module.split(".")[2:]
    if own := OWN & set(inside):
        yield f"imports {module}, and {', '.join(own)} belong to the slice alone"
    elif any(name.startswith("_") for name in inside):
        yield f"imports {module}, which is private"
    elif not WRITING_DOORS & set(inside) and (path := file_of(module)) and writes(path):
        yield f"imports {module}, which writes rows: go through the slice's actions"


def file_of(module: str) -> Path | None:
    """The file that holds ``package.module.name`` or ``package.module``; None when gone."""
    parts = module.split(".")
    for length in (len(parts), len(parts) - 1):
        path = ROOT.joinpath(*parts[:length])
        for found in (path.with_suffix(".py"), path / "__init__.py"):
            if found.is_file():
                return found
    return None


@cache
def writes(path: Path) -> bool:
    """Whether a module changes rows itself, by the usual words of the ORM."""
    if ".".join(path.relative_to(ROOT).with_suffix("").parts) in BOOK:
        return True
    tree = ast.parse(path.read_text(encoding="utf-8"))
    calls = [node.func for node in ast.walk(tree) if isinstance(node, ast.Call)]
    return any(isinstance(call, ast.Attribute) and _is_writing(call) for call in calls)


def _is_writing(call: ast.Attribute) -> bool:
    if call.attr in {"save", "bulk_create", "bulk_update", "get_or_create", "update_or_create"}:
        return True
    # create, update and delete are also words of dictionaries and sets: ask for a manager.
    names = {node.attr for node in ast.walk(call.value) if isinstance(node, ast.Attribute)}
    return call.attr in {"create", "update", "delete"} and bool(names & {"objects", "filter"})


def habits(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Overridden ``save`` of models, and receivers of signals."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef):
            for part in node.body:
                if isinstance(part, ast.FunctionDef) and part.name == "save":
                    yield part.lineno, f"{node.name} overrides save()"
        elif isinstance(node, ast.Attribute) and _is_signal(node):
            yield node.lineno, "connects a signal"


def _is_signal(node: ast.Attribute) -> bool:
    names = ("_save", "_delete", "_migrate", "_init", "_changed", "_ready")
    return node.attr == "connect" and getattr(node.value, "id", "").endswith(names)
