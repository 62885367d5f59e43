"""What happened is kept at once; the station is closed, the tool is out, leads are named."""

from __future__ import annotations

from datetime import date
from uuid import uuid4

import pytest

from tests.factories import make_person, make_sign_off, make_station, make_tool
from workshops.club.actions import set_rule
from workshops.nights import actions as nights
from workshops.nights.models import Placing
from workshops.nights.refusals import PlacingRefused
from workshops.people.gate import may
from workshops.people.models import Bar
from workshops.stations.actions import StationsRefused, take_out_of_service
from workshops.stations.models import Level, StationStop
from workshops.trouble import actions
from workshops.trouble.actions import Closing, TroubleRefused
from workshops.trouble.models import Addition, DayAfter, Trouble

pytestmark = pytest.mark.django_db


def test_a_report_closes_the_station_and_takes_out_who_stands_there(scene, put, happen) -> None:
    put("Ada", "drill")
    told = happen("19:20", what="cut hand", people=[scene.people["Ada"]])
    assert [row.block.index for row in told.taken_out] == [1, 2]
    assert told.trouble.stop.holds_on(scene.night.date)
    with pytest.raises(PlacingRefused, match="closed"):
        put("Ada", "drill", 2)


def test_who_stood_there_is_kept_with_the_minute_of_the_closing(scene, put, happen) -> None:
    put("Ada", "drill")
    stood = happen("19:20").trouble.stood.get()
    assert (stood.person, stood.starts, stood.ends) == (
        scene.people["Ada"], scene.at("19:10"), scene.at("19:20"),
    )  # fmt: skip


def test_in_a_break_it_is_who_stood_there_before_it(scene, put, happen) -> None:
    put("Ada", "drill", 2)
    assert happen("20:45").trouble.stood.get().ends == scene.at("20:30")


def test_of_somebody_hurt_the_board_says_no_more_than_that(happen) -> None:
    assert happen(what="Ada's thumb").trouble.stop.reason == "somebody hurt"
    again = happen(kind=Trouble.Kind.NEAR_MISS, what="chuck key flew")
    assert again.trouble.stop.reason == "near miss: chuck key flew"


def test_a_report_may_leave_the_station_open_or_name_none(scene, put, happen) -> None:
    put("Ada", "drill")
    assert happen(closing=Closing.OPEN).trouble.stop is None
    assert happen(station=None).trouble.stop is None
    assert Placing.objects.count() == 3


def test_for_tonight_it_opens_again_by_itself(scene, happen) -> None:
    stop = happen(closing=Closing.TONIGHT).trouble.stop
    assert stop.ends_on == scene.night.date


def test_sent_twice_it_is_one_report_and_one_stop(happen) -> None:
    key = uuid4()
    assert happen(client_key=key).trouble == happen(client_key=key).trouble
    assert (Trouble.objects.count(), StationStop.objects.count()) == (1, 1)


def test_a_broken_tool_is_out_of_service_with_its_tag(scene, happen, shop) -> None:
    tool = make_tool(shop, scene.drill, count=2)
    happen(kind=Trouble.Kind.BROKEN, what="chuck slips", tool=tool)
    tool.refresh_from_db()
    assert (tool.out_of_service, tool.fault) == (1, "broken tool: chuck slips")


def test_a_tool_says_no_more_of_somebody_hurt_than_that(scene, happen, shop) -> None:
    tool = make_tool(shop, scene.drill)
    happen(what="Ada's thumb", tool=tool)
    tool.refresh_from_db()
    assert tool.fault == "somebody hurt"


def test_a_tool_that_is_out_already_does_not_keep_the_report(scene, happen, shop) -> None:
    tool = make_tool(shop, scene.drill)
    take_out_of_service(tool=tool, fault="cord", by=None)
    assert happen(kind=Trouble.Kind.BROKEN, tool=tool).trouble.tool == tool


@pytest.mark.parametrize("fields", [{"kind": "odd"}, {"reported_by": " "}])
def test_half_a_report_is_refused(happen, fields) -> None:
    with pytest.raises(TroubleRefused):
        happen(**fields)


def test_nothing_of_another_shop_stands_in_a_report(happen, other_shop) -> None:
    for fields in (
        {"station": make_station(other_shop)}, {"people": [make_person(other_shop)]},
        {"tool": make_tool(other_shop)},
    ):  # fmt: skip
        with pytest.raises(TroubleRefused):
            happen(**fields)


def test_words_are_added_with_a_name_and_nothing_is_changed(scene, happen) -> None:
    row, key = happen().trouble, uuid4()
    for _ in range(2):
        actions.add_words(
            trouble=row, words="two stitches", written_by="Dov", at=scene.at("21:30"),
            client_key=key,
        )  # fmt: skip
    assert [each.words for each in row.additions.all()] == ["two stitches"]
    with pytest.raises(TroubleRefused):
        actions.add_words(trouble=row, words=" ", written_by="Dov", at=scene.at("21:30"))
    assert Addition.objects.count() == 1


def test_only_a_lead_of_the_station_reopens_it_and_says_why(scene, happen, duty_lead) -> None:
    stop, ada, eli = happen().trouble.stop, scene.people["Ada"], scene.people["Eli"]
    given = {"stop": stop, "by": duty_lead, "at": scene.at("20:00")}
    for lead in (None, eli):
        with pytest.raises(TroubleRefused, match="Name one of those who may lead at Drill"):
            actions.reopen(lead=lead, why="guard is back", **given)
    with pytest.raises(StationsRefused, match="Reason"):
        actions.reopen(lead=ada, why=" ", **given)
    assert actions.reopen(lead=ada, why="guard is back", **given).reopened_by == "Ada Reed"


def test_a_station_without_leads_is_reopened_by_whoever_runs_the_night(
    scene, happen, duty_lead
) -> None:
    stop = happen(station=scene.tag).trouble.stop
    row = actions.reopen(stop=stop, lead=None, why="swept", by=duty_lead, at=scene.at("20:00"))
    assert row.reopened_by == "Dov"


@pytest.fixture
def rule(shop, coordinator) -> None:
    """The club lets people see a lead after an injury."""
    set_rule(
        shop=shop, key="see_lead_after_injury", value=True, decided_by="Board", source="minutes",
        decided_on=date(2026, 1, 2), by=coordinator,
    )  # fmt: skip


def test_without_the_clubs_rule_no_sign_off_is_touched(scene, happen, duty_lead) -> None:
    with pytest.raises(TroubleRefused, match="rules do not say that"):
        actions.let_see_a_lead(trouble=happen().trouble, by=duty_lead, at=scene.at("20:00"))
    assert not Bar.objects.exists()


def test_by_the_rule_those_who_work_alone_go_on_beside_a_lead(
    scene, happen, rule, duty_lead
) -> None:
    dee = scene.people["Dee"]
    make_sign_off(dee, scene.drill, Level.ALONE)
    row = happen(closing=Closing.OPEN).trouble
    assert not Bar.objects.exists()  # a report alone touches no sign-off
    for found in ([dee], []):
        assert actions.let_see_a_lead(trouble=row, by=duty_lead, at=scene.at("20:00")) == found
    day = scene.night.date
    assert not may(dee, scene.drill, day).ok
    assert may(dee, scene.drill, day, doing="learns").ok
    assert may(scene.people["Ada"], scene.drill, day, doing="leads").ok


def test_a_near_miss_touches_no_sign_off(scene, happen, rule, duty_lead) -> None:
    row = happen(kind=Trouble.Kind.NEAR_MISS).trouble
    with pytest.raises(TroubleRefused, match="somebody was hurt"):
        actions.let_see_a_lead(trouble=row, by=duty_lead, at=scene.at("20:00"))


def test_a_placing_against_the_new_bar_is_taken_away(scene, put, happen, rule, duty_lead) -> None:
    make_sign_off(scene.people["Dee"], scene.drill, Level.ALONE)
    put("Dee", "drill", 2)
    row = happen(closing=Closing.OPEN).trouble
    actions.let_see_a_lead(trouble=row, by=duty_lead, at=scene.at("19:40"))
    assert not Placing.objects.filter(person=scene.people["Dee"]).exists()


def ask(scene, answer: str, **fields):
    given = {"told": "See a doctor.", "asked_by": "Dov"} | fields
    return actions.ask_day_after(
        night=scene.night, person=given.pop("person", scene.people["Bo"]), answer=answer,
        at=scene.at("20:59"), **given,
    )  # fmt: skip


def test_each_answer_of_the_day_after_is_a_row_and_the_doctors_words_go_with_not_well(
    scene,
) -> None:
    assert (ask(scene, "not_reached").told, ask(scene, "fine").told) == ("", "")
    assert ask(scene, "not_well").told == "See a doctor."
    assert DayAfter.objects.count() == 3


def test_a_press_for_nobody_of_the_shop_is_refused(scene, other_shop) -> None:
    for fields in ({"asked_by": ""}, {"person": make_person(other_shop)}):
        with pytest.raises(TroubleRefused):
            ask(scene, "fine", **fields)
    with pytest.raises(TroubleRefused):
        ask(scene, "odd")


def test_an_answer_sent_twice_is_one(scene) -> None:
    key = uuid4()
    assert ask(scene, "fine", client_key=key) == ask(scene, "fine", client_key=key)


def test_the_station_of_a_report_is_left_out_of_the_next_plan(scene, happen) -> None:
    happen("18:05")
    nights.plan_night(night=scene.night, by=None, seconds=1.0)
    assert not Placing.objects.filter(station=scene.drill).exists()
