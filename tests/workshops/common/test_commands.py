"""The commands of the house that only hand on: to pytest, to the measurements."""

from __future__ import annotations

import subprocess
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command, get_commands, load_command_class

from workshops.common import bench
from workshops.common.management.commands.test import side_by_side


def test_test_is_ours_and_hands_its_words_to_pytest(monkeypatch: pytest.MonkeyPatch) -> None:
    ran: list[Any] = []
    monkeypatch.setattr(subprocess, "call", lambda words, cwd: ran.append((words, cwd)) or 3)
    assert get_commands()["test"] == "workshops.common"
    with pytest.raises(SystemExit) as stopped:
        load_command_class("workshops.common", "test").run_from_argv(["m", "test", "-k", "weld"])
    words, folder = ran[0]
    assert words[1:] == ["-m", "pytest", "-k", "weld"]
    assert (folder / "manage.py").is_file()
    assert stopped.value.code == 3


@pytest.mark.parametrize(("words", "cores", "workers"), [
    ([], 2, ["-n", "2", "--no-loadscope-reorder"]),
    (["--durations=10"], 64, ["-n", "4", "--no-loadscope-reorder"]),
    ([], 1, []),
    (["tests/published"], 2, []),
    (["-k", "weld"], 2, []),
    (["-n0"], 2, []),
    (["--pdb"], 2, []),
])  # fmt: skip
def test_all_the_tests_use_several_cores_and_some_of_them_one(
    words: list[str], cores: int, workers: list[str]
) -> None:
    assert side_by_side(words, cores) == workers


def test_bench_prints_a_table_for_each_measurement(
    monkeypatch: pytest.MonkeyPatch, settings: Any, tmp_path: Path
) -> None:
    monkeypatch.setattr(bench, "names", lambda folder: ["cutting", "placing"])
    monkeypatch.setattr(bench, "run", lambda name, folder: [(f"{name} of 30", "1 s", "2 s")])
    out = StringIO()
    call_command("bench", stdout=out)
    assert "cutting of 30" in out.getvalue()
    assert "placing of 30" in out.getvalue()


def test_every_measurement_has_a_run() -> None:
    folder = Path(bench.__file__).parents[2] / "tests" / "bench"
    for path in folder.glob("bench_*.py"):
        assert "\ndef run(" in path.read_text(encoding="utf-8"), f"{path.name} has no run()"
