"""The set-up before Django: what it finds missing, what it asks for, what it leaves alone."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

from workshops import groundwork

ROOT = groundwork.ROOT
SOURCE = Path(groundwork.__file__).read_text(encoding="utf-8")


def test_it_is_shorter_than_80_lines() -> None:
    assert len(SOURCE.splitlines()) < 80


@pytest.mark.parametrize("name", ["workshops/groundwork.py", "manage.py"])
def test_it_imports_nothing_that_must_first_be_installed(name: str) -> None:
    tree = ast.parse((ROOT / name).read_text(encoding="utf-8"))
    # Only the top of the files: Django is imported after the set-up, inside a condition.
    found = {
        alias.name.split(".")[0]
        for node in tree.body if isinstance(node, ast.Import) for alias in node.names
    } | {
        str(node.module).split(".")[0] for node in tree.body if isinstance(node, ast.ImportFrom)
    }  # fmt: skip
    assert found <= set(sys.stdlib_module_names) | {"workshops"}


def test_nothing_is_missing_where_the_tests_run() -> None:
    assert groundwork.missing_pins() == []


def test_a_package_of_another_version_counts_as_missing(tmp_path: Path) -> None:
    pins = tmp_path / "requirements.txt"
    pins.write_text("# why\ndjango==1.0\npsycopg[binary]==3.3.9\nno-such_package==2\n")
    assert "django" in groundwork.missing_pins(pins)
    assert "no-such_package" in groundwork.missing_pins(pins)
    assert "psycopg" not in groundwork.missing_pins(pins)


def test_every_line_of_the_requirements_is_pinned() -> None:
    lines = (ROOT / "requirements.txt").read_text(encoding="utf-8").splitlines()
    asked = [line for line in lines if line and not line.startswith("#")]
    assert [line for line in asked if "==" not in line] == []


def test_a_library_that_cannot_be_loaded_is_lacking() -> None:
    assert groundwork.lacks("libno-such-thing.so.9") is (sys.platform == "linux")


def test_who_is_not_root_is_told_the_one_line_and_nothing_is_run(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    monkeypatch.setattr(subprocess, "call", lambda *words: pytest.fail("it ran something"))
    with pytest.raises(SystemExit) as stopped:
        groundwork.need_system(["libpango-1.0-0"], "Station cards need Pango.")
    assert "sudo apt-get install -y --no-install-recommends libpango-1.0-0" in str(stopped.value)


def test_root_on_apt_gets_it_installed(monkeypatch: pytest.MonkeyPatch) -> None:
    ran: list[list[str]] = []
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    monkeypatch.setattr("shutil.which", lambda name: "/usr/bin/apt-get")
    monkeypatch.setattr(subprocess, "call", lambda words: ran.append(words) or 0)
    groundwork.need_system(["python3.11-venv"], "Python cannot make .venv.")
    assert [words[1] for words in ran] == ["update", "install"]


def test_an_install_that_fails_stops_with_what_to_try(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    monkeypatch.setattr("shutil.which", lambda name: "/usr/bin/apt-get")
    monkeypatch.setattr(subprocess, "call", lambda words: 100)
    with pytest.raises(SystemExit, match="To try by hand: apt-get install"):
        groundwork.need_system(["python3.11-venv"], "Python cannot make .venv.")


def test_a_python_without_the_packages_goes_on_inside_venv(tmp_path: Path) -> None:
    """A copy of the files with a .venv of its own, whose python only says its words."""
    (tmp_path / "workshops").mkdir()
    for name in ("manage.py", "workshops/groundwork.py", "requirements.txt"):
        (tmp_path / name).write_text((ROOT / name).read_text(encoding="utf-8"), encoding="utf-8")
    inside = tmp_path / ".venv" / "bin"
    inside.mkdir(parents=True)
    (inside / "pip").touch()
    python = inside / "python"
    python.write_text('#!/bin/sh\necho "inside: $@"\n')
    python.chmod(0o755)
    # -S hides site-packages, as on a machine with only Python.
    bare = [sys.executable, "-S", str(tmp_path / "manage.py"), "check", "--tag", "models"]
    said = subprocess.run(bare, capture_output=True, text=True, cwd=tmp_path, check=True).stdout
    assert said.strip() == f"inside: {tmp_path}/manage.py check --tag models"
