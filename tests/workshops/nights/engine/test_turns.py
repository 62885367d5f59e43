"""More came than the floor holds: jobs off it, in turns. Very few came: they go together."""

from __future__ import annotations

from collections import Counter

from tests.workshops.nights.engine.small import bench, night, person
from workshops.nights.engine.model_turns import fair_share
from workshops.nights.engine.people import Span
from workshops.nights.engine.plan import Plan
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.solve import solve
from workshops.nights.engine.stations import Operation, Piece, SetKind

BLOCKS = (Span(1110, 1140), Span(1140, 1170), Span(1170, 1200))


def crowd(count: int = 9, floor: int = 6, labels: int = 5) -> Problem:
    """So many come, all alike but for their names; the floor is too small for them."""
    people = [person(f"p{number}", "drill") for number in range(count)]
    stations = [
        bench("drill", benches=6),
        bench("labels", level_needed=None, crew_max=labels, is_off_floor=True, room="hall"),
    ]
    made = (Operation("o", "drill", "Drill", 10.0, "post"),)
    return night(
        people, stations, blocks=BLOCKS, floor_places=floor, operations=made,
        pieces=(Piece("post", "Post", 10.0),),
    )  # fmt: skip


def off_the_floor(plan: Plan) -> Counter[str]:
    """How often each person was not on the floor."""
    on = Counter(each.person for each in plan.placings if each.station == "drill")
    return Counter({each.id: 3 - on[each.id] for each in plan.problem.people})


def test_nine_on_a_floor_for_six_are_each_off_it_once() -> None:
    plan = solve(crowd())
    assert plan.is_legal(), plan.breaches
    assert set(off_the_floor(plan).values()) == {1}
    assert plan.idle == ()


def test_people_unlike_one_another_take_turns_too() -> None:
    people = [
        person(f"p{number}", "drill", rates={"drill": 1 + number / 9000}) for number in range(9)
    ]
    plan = solve(Problem(**{**vars_of(crowd()), "people": tuple(people)}))
    assert max(off_the_floor(plan).values()) == 1


def vars_of(problem: Problem) -> dict[str, object]:
    return {name: getattr(problem, name) for name in Problem.__dataclass_fields__}


def test_thirty_nine_turns_among_thirty_one_are_two_for_some() -> None:
    assert fair_share(crowd(31, 18)) == 2
    assert fair_share(crowd(6, 6)) == 0


def test_a_turn_is_told_and_who_finds_no_job_hears_why() -> None:
    plan = solve(crowd(labels=1))
    off = next(each for each in plan.placings if each.station == "labels")
    assert "the floor holds 6, and it is their turn off it" in plan.why(off)
    assert all("The floor is full with 6 people" in each.reason for each in plan.idle)
    assert any("The floor holds 6" in each for each in plan.explain())


def few() -> Problem:
    """Two of many come: one cuts and bends, one drills; a set takes one of each."""
    people = [person("ada", "cut", "bend"), person("bo", "drill")]
    stations = [bench("cut"), bench("bend"), bench("drill"), bench("saw")]
    made = tuple(
        Operation(name, name, name.title(), 10.0, f"{name}_piece", 1, uses)
        for name, uses in (("cut", {}), ("bend", {"cut_piece": 1}), ("drill", {}), ("saw", {}))
    )
    pieces = tuple(Piece(f"{each.id}_piece", each.name, 5.0) for each in made)
    kind = SetKind("set", "Set", 100.0, {"bend_piece": 1, "drill_piece": 1})
    return night(people, stations, blocks=BLOCKS, operations=made, pieces=pieces, sets=(kind,))


def test_two_people_go_through_the_stations_and_complete_sets() -> None:
    plan = solve(few())
    assert plan.output.sets["set"] >= 3
    assert plan.few.startswith("2 people are here for 4 stations with work, so they go together:")
    assert plan.few.endswith("That completes 3 sets.")


def test_of_enough_people_nothing_is_said() -> None:
    assert solve(crowd(6, 6)).few == ""


def test_a_job_off_the_floor_is_kept_from_block_to_block() -> None:
    people = [person("ada", "drill"), person("bo")]
    jobs = [
        bench(name, level_needed=None, crew_max=2, is_off_floor=True, room="hall")
        for name in ("labels", "phone")
    ]
    made = (Operation("o", "drill", "Drill", 10.0, "post"),)
    plan = solve(
        night(people, [bench("drill"), *jobs], blocks=BLOCKS, operations=made,
              pieces=(Piece("post", "Post", 10.0),))
    )  # fmt: skip
    assert [each.station for each in plan.placings if each.person == "bo"] == ["labels"] * 3
    waiting = next(each for each in plan.closed if each.station == "phone")
    assert waiting.reason == "Nobody is left without a place, so this job waits."


def test_a_minor_whom_nobody_is_free_to_look_after_gets_no_job() -> None:
    people = [person("ada", "weld"), person("kid", age=14)]
    job = bench("labels", level_needed=None, is_off_floor=True, room="hall")
    plan = solve(night(people, [bench("weld", is_hooded=True), job]))
    assert plan.is_legal(), plan.breaches
    assert [each.person for each in plan.placings] == ["ada"]
    assert "nobody free to look after them" in plan.idle[0].reason
