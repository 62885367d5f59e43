"""Find and run the measurements in ``tests/bench``, and lay them out as tables."""

from __future__ import annotations

import importlib
from collections.abc import Iterable
from pathlib import Path

from django.core.management import CommandError

Row = tuple[str, str, str]  # what, measured, target


def names(folder: Path) -> list[str]:
    """The measurements there are: ``bench_placing.py`` is called placing."""
    return sorted(path.stem.removeprefix("bench_") for path in folder.glob("bench_*.py"))


def run(name: str, folder: Path) -> list[Row]:
    """What one measurement found.

    Raises
    ------
    CommandError
        When there is no such measurement; names those there are.
    """
    known = names(folder)
    if name not in known:
        raise CommandError(f"No measurement is called {name}. There are: {', '.join(known)}.")
    module = importlib.import_module(f"tests.bench.bench_{name}")
    return [(str(what), str(measured), str(target)) for what, measured, target in module.run()]


def table(title: str, rows: Iterable[Row]) -> str:
    """The rows under a title, in columns as wide as their widest word."""
    lines = [("what", "measured", "to reach"), *rows]
    widths = [max(len(line[column]) for line in lines) for column in range(3)]
    texts = ["  ".join(map(str.ljust, line, widths)).rstrip() for line in lines]
    return "\n".join([title, "=" * len(title), texts[0], "-" * len(texts[0]), *texts[1:]])
