"""The checks against the world outside say where their values come from, and there are enough."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

FILES = sorted((Path(__file__).resolve().parent / "published").glob("test_*.py"))


def checks_in(path: Path) -> list[ast.FunctionDef]:
    """The tests of one file."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    found = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]
    return [node for node in found if node.name.startswith("test_")]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_check_names_its_source_or_says_that_there_is_none(path: Path) -> None:
    checks = checks_in(path)
    assert checks
    assert [node.name for node in checks if not ast.get_docstring(node)] == []


def test_there_are_enough_of_them() -> None:
    assert sum(len(checks_in(path)) for path in FILES) >= 25
