"""Nights small enough to work out on paper; the reasoning stands with each."""

from __future__ import annotations

import pytest

from tests.workshops.nights.engine.small import bench, night, person, watch
from workshops.nights.engine.people import Span
from workshops.nights.engine.placings import Placing, Role
from workshops.nights.engine.plan import Proof
from workshops.nights.engine.problem import Before
from workshops.nights.engine.solve import solve
from workshops.nights.engine.stations import Material, Operation, Piece, SetKind

TWO = (Span(1110, 1155), Span(1170, 1215))


def test_the_quicker_person_gets_the_bench() -> None:
    """45 minutes at 9 minutes a piece are 5 pieces, at twice the pace 10, worth 10 each."""
    people = [person("ada", "drill"), person("bo", "drill", rates={"drill": 2.0})]
    plan = solve(night(people, [bench("drill")]))
    assert [each.person for each in plan.placings] == ["bo"]
    assert plan.output.worth == pytest.approx(100)
    assert (plan.proof, plan.bound) == (Proof.BEST, pytest.approx(100))


def test_two_people_take_the_stations_at_which_the_pair_makes_most() -> None:
    """Ada saws 10 or drills 15, Bo saws 5 or drills 12.5: 10 + 12.5 beats 15 + 5."""
    people = [
        person("ada", "drill", "saw", rates={"saw": 2.0, "drill": 3.0}),
        person("bo", "drill", "saw", rates={"drill": 2.5}),
    ]
    plan = solve(night(people, [bench("drill"), bench("saw")]))
    assert {(each.person, each.station) for each in plan.placings} == {
        ("ada", "saw"), ("bo", "drill"),
    }  # fmt: skip
    assert plan.output.worth == pytest.approx(225)


def test_what_is_sawn_in_a_block_is_drilled_in_the_next() -> None:
    """One block of sawing gives 5 posts; drilling them is worth 30 each only a block later."""
    operations = (
        Operation("saw_post", "saw", "Saw", 9, "post"),
        Operation("drill_post", "drill", "Drill", 9, "drilled", uses={"post": 1}),
    )
    pieces = (Piece("post", "Post", 10), Piece("drilled", "Drilled", 40))
    people = [person("ada", "drill", "saw")]
    plan = solve(night(people, [bench("drill"), bench("saw")], blocks=TWO,
                       operations=operations, pieces=pieces))  # fmt: skip
    assert [each.station for each in plan.placings] == ["saw", "drill"]
    assert plan.output.made == {"saw_post": (5.0, 0.0), "drill_post": (0.0, 5.0)}
    assert plan.output.worth == pytest.approx(200)


def test_material_limits_what_is_made() -> None:
    """7 units of tube at 2 a post are 3.5 posts, although the hands would saw 5."""
    operations = (Operation("saw_post", "saw", "Saw", 9, "post", materials={"tube": 2}),)
    plan = solve(night([person("ada", "saw")], [bench("saw")], operations=operations,
                       pieces=(Piece("post", "Post", 10),),
                       materials=(Material("tube", "Tube", 7),)))  # fmt: skip
    assert plan.output.made == {"saw_post": (3.5,)}


def test_a_full_rack_limits_what_is_made() -> None:
    """The rack holds 8 and has 6."""
    pieces = (Piece("saw_piece", "Post", 10, on_rack=6, rack_limit=8),)
    plan = solve(night([person("ada", "saw")], [bench("saw")], pieces=pieces))
    assert plan.output.racks == {"saw_piece": 8.0}
    assert plan.output.worth == pytest.approx(20)


def test_complete_sets_come_before_loose_pieces() -> None:
    """5 heads complete 4 of the 4 posts on the rack: 4 x 60 + 10; 5 posts are 5 x 12."""
    pieces = (Piece("head_piece", "Head", 10), Piece("post_piece", "Post", 12, on_rack=4))
    sets = (SetKind("set", "Set", 72, {"head_piece": 1, "post_piece": 1}),)
    plan = solve(night([person("ada", "head", "post")], [bench("head"), bench("post")],
                       pieces=pieces, sets=sets))  # fmt: skip
    assert [each.station for each in plan.placings] == ["head"]
    assert plan.output.sets == {"set": 4.0}
    assert plan.output.worth == pytest.approx(5 * 10 + 4 * 50)


def test_old_sets_on_the_racks_are_not_made_tonight() -> None:
    """3 sets stand there already: they count as before, not as worth of tonight."""
    pieces = (
        Piece("head_piece", "Head", 10, on_rack=3),
        Piece("post_piece", "Post", 12, on_rack=3),
    )
    sets = (SetKind("set", "Set", 72, {"head_piece": 1, "post_piece": 1}),)
    plan = solve(night([], [bench("head")], pieces=pieces, sets=sets,
                       operations=()))  # fmt: skip
    assert (plan.output.sets_before, plan.output.worth) == ({"set": 3.0}, 0.0)


def test_a_learner_works_at_half_pace_beside_the_lead() -> None:
    """5 pieces of the lead and 2.5 of the learner."""
    people = [person("ada", "drill may_lead"), person("bo", "drill with_a_lead")]
    plan = solve(night(people, [bench("drill", crew_max=2)]))
    assert plan.placings == (
        Placing("ada", 0, "drill", 1, Role.LEADS), Placing("bo", 0, "drill", 1, Role.LEARNS),
    )  # fmt: skip
    assert plan.output.made == {"drill_work": (7.5,)}


def test_the_watch_runs_through_the_break_and_past_the_last_block() -> None:
    """Sparks from 18:30 to 19:15, 75 minutes of watch to 20:30, past the end of block two."""
    problem = night([person("ada", "weld"), person("bo", "watch")],
                    [bench("weld", is_hot=True), watch()], blocks=TWO, lock_up=1290)  # fmt: skip
    plan = solve(problem)
    assert [(each.block, each.start, each.end) for each in plan.watch] == [
        (0, 1110, 1170), (1, 1170, 1275),
    ]  # fmt: skip
    assert len(plan.placings) == 2


def test_the_watch_may_be_handed_over_between_blocks() -> None:
    """Neither can stay for both blocks; sparks in the first need watching in the second."""
    early, late = (Span(1080, 1170),), (Span(1165, 1290),)
    people = [person("ada", "weld"), person("bo", "watch", present=early),
              person("cy", "watch", present=late)]  # fmt: skip
    plan = solve(night(people, [bench("weld", is_hot=True), watch()], blocks=TWO, lock_up=1290))
    assert [each.person for each in plan.watch] == ["bo", "cy"]


def test_sparks_before_a_replan_are_still_watched() -> None:
    """Last spark 18:00, watch of an hour: block one, from 18:30, is watched up to 19:00."""
    plan = solve(night([person("bo", "watch", "drill")], [bench("drill"), watch()],
                       before=Before({"steel": 1080})))  # fmt: skip
    assert [(each.person, each.start, each.end) for each in plan.watch] == [("bo", 1110, 1140)]
    assert plan.placings == ()


def test_a_watch_owed_that_nobody_can_keep_is_shown_as_a_breach() -> None:
    plan = solve(night([person("ada", "drill")], [bench("drill"), watch()],
                       before=Before({"steel": 1080})))  # fmt: skip
    assert not plan.is_legal()
    assert {breach.rule for breach in plan.breaches} == {"fire_watch"}


def test_a_room_of_straw_stays_free_of_sparks_after_a_replan() -> None:
    people = [person("ada", "weld"), person("bo", "watch")]
    plan = solve(night(people, [bench("weld", is_hot=True), watch()],
                       before=Before(straw_rooms=("steel",))))  # fmt: skip
    assert plan.placings == ()


def test_wishes_decide_between_people_of_one_pace() -> None:
    people = [person("ada", "drill", "saw", likes=("saw",)), person("bo", "drill", "saw")]
    plan = solve(night(people, [bench("drill"), bench("saw")]))
    assert ("ada", "saw") in {(each.person, each.station) for each in plan.placings}


def test_wishes_never_cost_more_than_the_share_allowed() -> None:
    """Ada would like the saw, where Bo is twice as quick."""
    people = [person("ada", "saw", likes=("saw",)), person("bo", "saw", rates={"saw": 2.0})]
    assert [each.person for each in solve(night(people, [bench("saw")])).placings] == ["bo"]


def test_a_change_from_last_time_decides_where_nothing_else_does() -> None:
    people = [person("ada", "drill", "saw", last_stations=("drill",)), person("bo", "drill", "saw")]
    plan = solve(night(people, [bench("drill"), bench("saw")]))
    assert ("ada", "saw") in {(each.person, each.station) for each in plan.placings}


def test_a_runner_is_found_when_one_is_wanted() -> None:
    people = [person("ada", "drill"), person("bo", "drill")]
    runner = bench("runner", level_needed=None, wanted=1)
    plan = solve(night(people, [bench("drill", crew_max=2), runner],
                       materials=(Material("blank", "Blank", 5),),
                       operations=(Operation("o", "drill", "Drill", 9, "drill_piece", 1, {},
                                             {"blank": 1}),)))  # fmt: skip
    assert sorted(each.station for each in plan.placings) == ["drill", "runner"]
