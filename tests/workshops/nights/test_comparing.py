"""Two plans side by side: who moves, what each makes, what each breaks, on the facts of now."""

from __future__ import annotations

import pytest

from tests.factories import make_bar
from workshops.nights import actions
from workshops.nights.comparing import (
    Bench,
    Compared,
    compare,
    stands_before,
    stands_now,
    stands_of_run,
)
from workshops.nights.loading import load, load_making
from workshops.nights.models import Change
from workshops.people.names import short_names

pytestmark = pytest.mark.usefixtures("material")


@pytest.fixture
def planned(scene):
    actions.plan_night(night=scene.night, by=None, seconds=1.0)
    return scene


def bench(scene, clock: str = "17:00") -> Bench:
    loaded = load(scene.night)
    problem = loaded.problem(making=load_making(scene.shop))
    names = short_names(loaded.register.people.values())
    return Bench.of(loaded, problem, scene.at(clock), names)


def with_board(scene, clock: str = "17:00") -> Compared:
    """The plan that was made against the board as it stands."""
    at = bench(scene, clock)
    run = scene.night.runs.get()
    return compare(
        at, at.side("plan", stands_of_run(run, at.loaded)), at.side("now", stands_now(at.loaded))
    )


def put(scene, name: str, station: str, block: int) -> None:
    actions.place(
        night=scene.night, block=scene.blocks[block], person=scene.people[name],
        station=getattr(scene, station),
    )  # fmt: skip


def test_a_plan_that_stands_differs_in_nothing(planned) -> None:
    found = with_board(planned)
    assert (found.moved, found.seats) == ((), 0)
    assert found.before.output == found.after.output
    assert found.before.breaches == ()


def test_a_move_is_told_with_what_it_makes_less(planned) -> None:
    put(planned, "Ada", "tag", 0)
    found = with_board(planned)
    line = next(each for each in found.moved if each.name == "Ada R.")
    assert (line.was, line.now) == ("Drill", "Tag")
    drilled = next(each for each in found.made if each.operation == "Make Post")
    assert drilled.more < 0


def test_what_breaks_a_rule_by_now_is_told_of_the_plan_too(planned) -> None:
    make_bar(planned.people["Ada"], planned.drill)
    actions.unplace(night=planned.night, block=planned.blocks[0], person=planned.people["Ada"])
    assert {each.rule for each in with_board(planned).before.breaches} >= {"barred"}


def test_while_the_night_runs_only_what_is_left_is_counted(planned) -> None:
    whole, left = with_board(planned), with_board(planned, "19:55")
    posts = [
        next(each.before for each in found.made if each.operation == "Make Post")
        for found in (whole, left)
    ]
    assert posts[0] > posts[1] > 0


def test_the_board_before_its_latest_step_is_put_together_again(planned) -> None:
    before = set(stands_now(load(planned.night)))
    put(planned, "Ada", "tag", 0)
    step = Change.objects.latest("pk")
    assert set(stands_before(step, load(planned.night))) == before
