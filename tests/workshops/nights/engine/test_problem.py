"""A problem refuses nonsense at birth, by name, and does not care about order."""

from __future__ import annotations

import json
from typing import Any

import pytest

from inventory.engines.strict import ProblemRefused
from tests.bench.placing_nights import night as drawn
from tests.workshops.nights.engine.small import bench, night, person, watch
from workshops.nights.engine.people import Level, Person, SignOff, Span
from workshops.nights.engine.placings import Lock, Role
from workshops.nights.engine.problem import ClubRules, Problem
from workshops.nights.engine.stations import Operation, Piece, SetKind, Station, Tool

WRONG_ROLE = Lock("a", 0, "b", Role.WATCHES)
CHEAP_SET = SetKind("s", "Set", 10, {"b_piece": 1})
NONSENSE: list[tuple[Any, str]] = [
    (lambda: Span(60, 60), "forward"),
    (lambda: Person("", "Nobody"), "id"),
    (lambda: Person("a", "Ada", age=131), "age"),
    (lambda: Person("a", "Ada", rates={"saw": 0.0}), "rates: saw"),
    (lambda: SignOff("saw", Level.ALONE, "next week"), "valid_until"),
    (lambda: person("a", "saw", "saw"), "sign_offs: station 'saw' stands twice"),
    (lambda: bench("b", crew_min=3, crew_max=2), "crew_min and crew_max"),
    (lambda: bench("b", level_needed=Level.WITH_A_LEAD), "level_needed"),
    (lambda: bench("b", is_hot=True, has_straw=True), "split the station"),
    (lambda: bench("b", needs_buddy=True), "crew_max of 2"),
    (lambda: watch(is_hot=True), "is_fire_watch"),
    (lambda: Tool("t", "Torch", 1, 2), "out_of_service"),
    (lambda: Operation("o", "saw", "Saw", 0.0, "post"), "minutes"),
    (lambda: Operation("o", "saw", "Saw", 1.0, "post", uses={"post": 1}), "cannot use"),
    (lambda: Piece("p", "Post", float("nan")), "worth"),
    (lambda: SetKind("s", "Set", 10, {}), "parts"),
    (lambda: ClubRules(learner_rate=2.0), "learner_rate"),
    (lambda: night([person("a"), person("a")], []), "people: id 'a' stands twice"),
    (lambda: night([], [watch(), bench("other", is_fire_watch=True)]), "only one"),
    (lambda: night([], [], blocks=(Span(60, 120), Span(100, 160))), "number 2 starts before"),
    (lambda: night([], [], lock_up=1000), "lock_up"),
    (lambda: night([], [], date="16 January"), "date"),
    (lambda: night([person("kid", guardians=("mum",))], []), "'mum' is not in the problem"),
    (lambda: night([person("kid", guardians=("kid",))], []), "no other adult"),
    (lambda: night([], [bench("b", tools={"vise": 1})]), "stations: b: tools: 'vise'"),
    (lambda: night([person("a")], [bench("b")], locks=(Lock("a", 1, "b"),)), "block 1"),
    (lambda: night([person("a")], [bench("b")], locks=(WRONG_ROLE,)), "role watches"),
    (lambda: night([], [bench("b")], sets=(CHEAP_SET,)), "loose parts"),
]  # fmt: skip


@pytest.mark.parametrize(("born", "named"), NONSENSE, ids=[named for _, named in NONSENSE])
def test_nonsense_is_refused_at_birth_and_named(born: Any, named: str) -> None:
    with pytest.raises(ValueError, match=named):
        born()


def test_a_night_survives_its_plain_form() -> None:
    problem = drawn(3, 12, 3, 7)
    assert Problem.from_json(json.loads(json.dumps(problem.to_json()))) == problem


def test_the_order_of_what_was_typed_does_not_matter() -> None:
    people, stations = [person("a"), person("b")], [bench("x"), bench("y")]
    assert night(people, stations) == night(people[::-1], stations[::-1])


def test_an_unknown_key_is_named_with_its_place() -> None:
    raw = drawn(3, 12, 3, 7).to_json()
    raw["people"][0]["shoe_size"] = 43
    with pytest.raises(ProblemRefused) as refused:
        Problem.from_json(raw)
    assert refused.value.key == "problem.people[0].shoe_size"


def test_a_value_out_of_range_is_named_with_its_place() -> None:
    raw = drawn(3, 12, 3, 7).to_json()
    raw["stations"][1]["crew_max"] = 0
    with pytest.raises(ProblemRefused, match=r"stations\[1\].*crew_min and crew_max"):
        Problem.from_json(raw)


def test_last_spark_is_lock_up_minus_the_watch() -> None:
    assert night([], [], lock_up=1260).last_spark == 1200


def test_a_person_of_unstated_age_is_an_adult() -> None:
    problem = night([person("a"), person("kid", age=17)], [])
    assert [problem.is_adult(each) for each in problem.people] == [True, False]


def test_a_station_for_buddies_needs_two_at_a_bench() -> None:
    assert bench("roll", needs_buddy=True, crew_max=3).crew_least == 2
    assert bench("weld", needs_buddy=True, is_hooded=True).crew_least == 1
    assert Station("pin", "Pin", "hall").crew_least == 1
