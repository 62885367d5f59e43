"""Rows to an outlook problem: nights, people, racks, ice."""

from __future__ import annotations

from datetime import date, time

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.factories import make_bar, make_sign_off, make_tool
from workshops.nights.models import Night, SignUp
from workshops.season import translate
from workshops.season.engine import problem as engine
from workshops.season.loading import problem_of
from workshops.season.models import IceOut

pytestmark = pytest.mark.usefixtures("material")

TODAY = date(2026, 1, 14)


def problem(season) -> engine.Problem:
    season.want()
    return problem_of(season.winter, TODAY)


def person(season, name: str) -> engine.Person:
    wanted = str(season.scene.people[name].pk)
    return next(each for each in problem(season).people if each.id == wanted)


def key(season, name: str) -> str:
    return str(season.scene.operations[name].pk)


def test_the_nights_to_come_have_minutes_of_work_and_of_sparks(season) -> None:
    first = problem(season).nights[0]
    assert (first.date, first.blocks) == ("2026-01-14", (40, 40, 40))
    # Last spark at 20:00: all of two blocks and ten minutes of the third.
    assert first.last_spark == 90


def test_an_early_lock_up_leaves_no_time_for_sparks(season) -> None:
    season.next_week.lock_up = time(20, 30)
    season.next_week.stop = time(20, 30)
    [row] = translate.nights([season.next_week], 180)
    assert row.last_spark == 0


def test_cancelled_nights_and_nights_after_the_winter_do_not_come(season) -> None:
    Night.objects.filter(pk=season.next_week.pk).update(status=Night.Status.CANCELLED)
    season.winter.ends_on = date(2026, 1, 20)
    assert [night.date for night in problem(season).nights] == ["2026-01-14"]


def test_a_broken_tool_takes_a_bench_away(season) -> None:
    make_tool(season.shop, season.scene.drill, count=1, out_of_service=1, fault="cord")
    benches = {row.title: row.benches for row in problem(season).stations}
    assert (benches["Drill"], benches["Weld"]) == (0, 1)


def test_a_person_may_what_the_gate_says(season) -> None:
    ada, bo, eli = (person(season, name) for name in ("Ada", "Bo", "Eli"))
    assert key(season, "drill") in ada.leads
    assert key(season, "weld") in bo.alone
    assert key(season, "weld") not in ada.alone
    assert key(season, "drill") in eli.learns
    assert person(season, "Cy").may_watch
    assert not bo.may_watch


def test_a_bar_counts_and_a_missing_waiver_is_signed_at_the_door(season) -> None:
    make_bar(season.scene.people["Bo"], season.scene.weld)
    season.scene.people["Ada"].waivers.all().delete()
    assert key(season, "weld") not in person(season, "Bo").alone
    assert key(season, "drill") in person(season, "Ada").leads


def test_a_sign_off_stops_counting_the_day_after_its_last(season) -> None:
    make_sign_off(
        season.scene.people["Bo"], season.scene.weld, signed_on=date(2025, 12, 1),
        valid_until=date(2026, 1, 18),
    )  # fmt: skip
    assert person(season, "Bo").lapses == {key(season, "weld"): "2026-01-19"}


def test_answers_to_nights_to_come_reach_the_engine(season) -> None:
    SignUp.objects.create(night=season.next_week, person=season.scene.people["Dee"], answer="no")
    assert person(season, "Dee").answers == {
        "2026-01-14": engine.Answer.YES, "2026-01-21": engine.Answer.NO,
    }  # fmt: skip


def test_turnout_is_learned_from_held_nights(season) -> None:
    season.hold_last_week("Ada")
    assert (person(season, "Ada").asked, person(season, "Ada").came) == (1, 1)


def test_the_target_and_what_is_made_stand_by_set(season) -> None:
    season.make("tag", 4)
    [variant] = problem(season).variants
    assert (variant.target, variant.finished) == (15, 4)
    assert [made.finished for made in problem(season).made] == [4]


def test_finished_sets_are_not_on_a_rack_as_well(season) -> None:
    season.make("tag", 4)
    there = {row.title: row.on_hand for row in problem(season).items}
    assert there["Set"] == 0
    assert there["Straw"] == 5_000


def test_what_can_be_ordered_is_on_its_way(season) -> None:
    season.want(new=400)
    arrivals = problem_of(season.winter, TODAY).arrivals
    assert str(season.scene.stock.tube.pk) in {row.item for row in arrivals}


@pytest.mark.parametrize(
    ("went_on", "this_spring"),
    [
        (date(2020, 3, 1), "2026-03-02"),  # a leap day moves nothing but itself
        (date(2023, 4, 2), "2026-04-02"),
        (date(2019, 12, 30), "2025-12-30"),
    ],
)
def test_past_ice_outs_are_laid_on_this_winters_spring(season, went_on, this_spring) -> None:
    [ice] = translate.ice([IceOut(went_on=went_on)], season.winter)
    assert ice.date == this_spring


def test_loading_takes_as_many_queries_for_twice_the_winter(season) -> None:
    counts = []
    for more in (0, 8):
        for number in range(more):
            season.scene.join(f"Guest{number}", (season.scene.drill, 3))
        season.want()
        with CaptureQueriesContext(connection) as caught:
            problem_of(season.winter, TODAY)
        counts.append(len(caught))
    assert counts[0] == counts[1] <= 29
