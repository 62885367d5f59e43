"""One engine on one file: plans as JSON, refusals by key and reason with exit code 2."""

from __future__ import annotations

import json
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command

from tests.workshops.nights.engine import small
from tests.workshops.season.engine import winters
from workshops.home.solving import ENGINES
from workshops.season.engine.problem import to_json

CASES = Path(__file__).parents[3] / "fixtures" / "engine_cases"

# 2 pieces of 1000 and 1 of 500 from sticks of 2500, in micrometres: one stick, by hand.
CUTS = {
    "pieces": [{"label": "post", "length": 1000, "count": 2},
               {"label": "rod", "length": 500, "count": 1}],
    "sticks": [{"label": "new", "length": 2500, "count": 3}],
}  # fmt: skip


def write(folder: Path, text: str) -> Path:
    path = folder / "problem.json"
    path.write_text(text, encoding="utf-8")
    return path


def solve(path: Path, engine: str = "cutlist", **options: Any) -> Any:
    out = StringIO()
    call_command("solve", engine, str(path), stdout=out, **options)
    return json.loads(out.getvalue())


def refusal(path: Path, engine: str = "cutlist", **options: Any) -> str:
    errors = StringIO()
    with pytest.raises(SystemExit) as stopped:
        call_command("solve", engine, str(path), stderr=errors, stdout=StringIO(), **options)
    assert stopped.value.code == 2
    return errors.getvalue()


def test_a_cut_list_is_printed_as_json(tmp_path: Path) -> None:
    plan = solve(write(tmp_path, json.dumps(CUTS)))
    assert plan["made"] == {"post": 2, "rod": 1}
    assert plan["sticks_out"] == {"new": 1}
    assert plan["is_proven"]


@pytest.mark.parametrize("engine", sorted(path.name for path in CASES.iterdir()))
def test_a_saved_case_is_solved_as_it_lies_there(engine: str) -> None:
    path = sorted((CASES / engine).glob("*.json"))[0]
    assert solve(path, engine, seconds=1) != {}


def test_needs_are_printed_as_json(tmp_path: Path) -> None:
    case = json.loads((CASES / "needs" / "shared_heads.json").read_text(encoding="utf-8"))
    plan = solve(write(tmp_path, json.dumps(case["problem"])), "needs")
    assert plan["mix"]["sets"] == case["sets_possible"]


def test_a_placing_is_printed_as_json(tmp_path: Path) -> None:
    problem = small.night([small.person("ada", "drill")], [small.bench("drill")])
    plan = solve(write(tmp_path, json.dumps(problem.to_json())), "placing")
    assert [(each["person"], each["station"]) for each in plan["placings"]] == [("ada", "drill")]


def test_an_outlook_is_printed_as_json(tmp_path: Path) -> None:
    problem = winters.bare()
    plan = solve(write(tmp_path, json.dumps(to_json(problem))), "outlook")
    assert len(plan["nights"]) == len(problem.nights)
    assert 0 <= plan["chance_of_target"]["share"] <= 1


@pytest.mark.parametrize("engine", sorted(ENGINES))
def test_every_engine_refuses_an_unknown_key_by_its_name(engine: str, tmp_path: Path) -> None:
    assert "geese" in refusal(write(tmp_path, '{"geese": 3}'), engine)


@pytest.mark.parametrize("engine", sorted(ENGINES))
def test_every_engine_refuses_what_is_no_object(engine: str, tmp_path: Path) -> None:
    assert "must be an object" in refusal(write(tmp_path, "[]"), engine)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('{"pieces": [', "line 1"),
        ('{"pieces": [], "pieces": []}', "pieces: is given twice"),
        ('{"pieces": NaN}', "NaN is not a number"),
        ("\ud800".encode("utf-8", "surrogatepass").decode("latin-1"), "not JSON"),
    ],
)
def test_a_file_that_is_no_json_is_refused_with_the_place(
    text: str, says: str, tmp_path: Path
) -> None:
    assert says in refusal(write(tmp_path, text))


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    assert "absent.json: cannot be read" in refusal(tmp_path / "absent.json")


@pytest.mark.parametrize("options", [{"seconds": 0.0}, {"seed": -1}])
def test_a_stop_or_a_seed_that_cannot_be_is_refused(
    options: dict[str, float], tmp_path: Path
) -> None:
    assert next(iter(options)) in refusal(write(tmp_path, json.dumps(CUTS)), **options)
