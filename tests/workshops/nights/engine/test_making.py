"""What fixed placings make, whoever chose them; and first come, first placed."""

from __future__ import annotations

import pytest

from tests.bench.placing_nights import night as drawn
from tests.workshops.nights.engine.small import bench, night, person, watch
from workshops.nights.engine.greedy import first_come
from workshops.nights.engine.making import expected_output, standing
from workshops.nights.engine.people import Span
from workshops.nights.engine.placings import Placing, Role
from workshops.nights.engine.solve import solve
from workshops.nights.engine.stations import Piece, SetKind


def test_placings_by_hand_make_what_their_hands_can() -> None:
    problem = night([person("ada", "drill", rates={"drill": 1.2})], [bench("drill")])
    output = expected_output(problem, [Placing("ada", 0, "drill")])
    assert output.made == {"drill_work": (6.0,)}
    assert output.worth == pytest.approx(60)


def test_a_learner_makes_half() -> None:
    problem = night([person("ada", "drill with_a_lead")], [bench("drill")])
    output = expected_output(problem, [Placing("ada", 0, "drill", 1, Role.LEARNS)])
    assert output.made == {"drill_work": (2.5,)}


def test_nobody_placed_makes_nothing() -> None:
    output = expected_output(night([person("ada")], [bench("drill")]), [])
    assert (output.made, output.worth) == ({"drill_work": (0.0,)}, 0.0)


def test_a_placing_of_nobody_known_is_refused() -> None:
    with pytest.raises(ValueError, match="'eve'"):
        expected_output(night([], [bench("drill")]), [Placing("eve", 0, "drill")])


def test_what_stands_on_the_racks_counts_complete_sets_first() -> None:
    """2 heads and 3 posts are 2 sets at 50 and a post at 10."""
    pieces = (
        Piece("head_piece", "Head", 20, on_rack=2),
        Piece("post_piece", "Post", 10, on_rack=3),
    )
    kind = SetKind("set", "Set", 50, {"head_piece": 1, "post_piece": 1})
    problem = night([], [bench("head"), bench("post")], pieces=pieces, sets=(kind,))
    assert standing(problem) == (pytest.approx(110), {"set": pytest.approx(2)})


def test_sets_beyond_what_the_winter_wants_count_as_parts() -> None:
    pieces = (Piece("head_piece", "Head", 20, on_rack=3),)
    kind = SetKind("set", "Set", 50, {"head_piece": 1}, wanted=1)
    problem = night([], [bench("head")], pieces=pieces, sets=(kind,))
    assert standing(problem)[0] == pytest.approx(50 + 2 * 20)


def test_who_comes_first_takes_the_bench_although_slower() -> None:
    """The late one is three times as quick: planned 15 pieces, unplanned 5."""
    late = (Span(1105, 1290),)
    people = [person("ada", "drill"), person("bo", "drill", present=late, rates={"drill": 3.0})]
    problem = night(people, [bench("drill")])
    plan = solve(problem)
    assert [each.person for each in first_come(problem).placings] == ["ada"]
    assert (plan.first_come, plan.output.worth) == (pytest.approx(50), pytest.approx(150))


def test_first_come_sends_the_last_comer_to_watch() -> None:
    late = (Span(1105, 1290),)
    people = [person("ada", "weld", "watch"), person("bo", "watch", present=late)]
    board = first_come(night(people, [bench("weld", is_hot=True), watch()]))
    assert [each.person for each in board.watch] == ["bo"]
    assert [each.person for each in board.placings] == ["ada"]


@pytest.mark.parametrize("seed", range(4))
def test_the_plan_beats_first_come_on_drawn_nights(seed: int) -> None:
    plan = solve(drawn(seed, 10, 2, 9))
    assert plan.output.worth > plan.first_come > 0
