"""The rest of a night placed again: what is over stays, who is missing is left out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from workshops.nights import actions
from workshops.nights.engine.problem import Problem
from workshops.nights.loading import load
from workshops.nights.models import Change, Placing
from workshops.nights.permit.models import HotWorkPermit
from workshops.nights.refusals import NightRefused
from workshops.nights.rest import rest_of

pytestmark = pytest.mark.usefixtures("material")


@pytest.fixture
def planned(scene):
    actions.plan_night(night=scene.night, by=None, seconds=1.0)
    return scene


def replan(scene, clock: str, **how):
    return actions.replan_rest(night=scene.night, by=None, at=scene.at(clock), seconds=1.0, **how)


def board(scene, *blocks: int) -> set[tuple[str, str, int]]:
    rows = Placing.objects.filter(block__index__in=blocks)
    return set(rows.values_list("person__first_name", "station__name", "block__index"))


def come_in(scene, *names: str) -> None:
    for name in names:
        actions.sign_in(night=scene.night, person=scene.people[name], at=scene.at("18:05"))


def test_what_is_over_and_what_runs_stays(planned) -> None:
    before = board(planned, 0, 1)
    planned.night.sign_ups.filter(person=planned.people["Ada"]).update(leaves="19:50")
    run = replan(planned, "19:20")
    assert board(planned, 0, 1) == before
    assert run.from_block == 2
    assert "Ada" not in {name for name, _, _ in board(planned, 2)}


def test_by_choice_the_block_that_runs_is_placed_again(planned) -> None:
    come_in(planned, "Ada", "Bo", "Cy", "Dee", "Eli")
    actions.sign_out(night=planned.night, person=planned.people["Eli"], at=planned.at("19:15"))
    run = replan(planned, "19:20", keeps_current=False)
    assert run.from_block == 1
    assert run.problem["blocks"][0] == {"start": 19 * 60 + 20, "end": 19 * 60 + 50}
    assert "Eli" not in {name for name, _, _ in board(planned, 1, 2)}


def test_who_said_yes_and_is_not_on_the_roll_is_not_counted(planned) -> None:
    come_in(planned, "Ada", "Bo", "Cy", "Dee")
    replan(planned, "19:20")
    assert "Eli" not in {name for name, _, _ in board(planned, 2)}


def test_without_a_roll_the_sign_ups_are_all_there_is(planned) -> None:
    replan(planned, "19:20")
    assert board(planned, 2)


def test_the_watch_goes_on_after_the_sparks_that_are_behind(planned) -> None:
    assert ("Bo", "Weld", 1) in board(planned, 1)
    run = replan(planned, "19:20")
    ends = planned.blocks[1].ends
    assert run.problem["before"]["sparks"] == {"Forge": ends.hour * 60 + ends.minute}
    assert {row["person"] for row in run.result["watch"]} == {str(planned.people["Cy"].pk)}


def test_the_plan_counts_the_racks_as_the_book_has_them_now(planned) -> None:
    actions.tally(
        night=planned.night,
        operation=planned.operations["drill"],
        good=4,
        by=None,
        at=planned.at("19:00"),
    )
    run = replan(planned, "19:20")
    made = str(planned.operations["drill"].recipe.output_id)
    assert next(row for row in run.problem["pieces"] if row["id"] == made)["on_rack"] == 4


def test_it_is_one_step_that_can_be_taken_back(planned) -> None:
    before = board(planned, 0, 1, 2)
    planned.night.sign_ups.filter(person=planned.people["Ada"]).update(leaves="19:50")
    replan(planned, "19:20")
    step = Change.objects.latest("pk")
    assert step.kind == Change.Kind.REST
    planned.night.sign_ups.filter(person=planned.people["Ada"]).update(leaves=None)
    actions.undo_step(night=planned.night, change=step.pk)
    assert board(planned, 0, 1, 2) == before


def test_when_the_last_block_runs_and_stays_there_is_nothing_left(planned) -> None:
    with pytest.raises(NightRefused, match="Nothing is left to place at 20:10"):
        replan(planned, "20:10")


def with_permit(scene, **said) -> Problem:
    """The rest from 18:25 on, with a permit that is not stored."""
    permit = HotWorkPermit(room=scene.weld.room, **{"watch_minutes": 30, **said})
    rest = replace(rest_of(load(scene.night), scene.at("18:25")), permit=permit)
    return rest.problem_of(rest.loaded.problem())


def test_a_permit_that_asks_for_a_longer_watch_ends_the_sparks_earlier(planned) -> None:
    asked = [with_permit(planned, watch_minutes=each).club.watch_minutes for each in (30, 120)]
    assert asked == [60, 120]


def test_after_the_last_spark_was_called_hot_work_stays_closed(planned) -> None:
    problem = with_permit(planned, is_last_called=True, last_spark_at=planned.at("18:20"))
    closed = {each.name for each in problem.stations if each.closed_because}
    assert closed == {"Weld"}
    assert problem.before.sparks == {"Forge": 18 * 60 + 20}
