"""The board shows who stands where, what is broken, and why a station is closed."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.factories import make_bar, make_person, take_back
from workshops.nights import actions
from workshops.nights.board import BoardView, board_for
from workshops.nights.models import Night, Placing

pytestmark = pytest.mark.usefixtures("material")


def put(scene, name: str, station: str, block: int = 0) -> None:
    actions.place(
        night=scene.night, block=scene.blocks[block], person=scene.people[name],
        station=getattr(scene, station),
    )  # fmt: skip


def board(scene) -> BoardView:
    return board_for(Night.objects.select_related("plan", "shop").get(pk=scene.night.pk))


def row(scene, station: str):
    return next(each for each in board(scene).rows if each.station == getattr(scene, station))


def test_an_empty_board_has_every_station_closed_and_everybody_idle(scene) -> None:
    view = board(scene)
    assert (view.is_placed, view.open_rows, view.breaches) == (False, [], ())
    assert len(view.closed_rows) == 5
    assert [len(people) for _, people in view.idle] == [5, 5, 5]
    assert view.expected_count == 5


def test_a_station_with_somebody_is_open(scene) -> None:
    put(scene, "Ada", "drill")
    found = row(scene, "drill")
    assert (found.state, found.reason) == ("open", "")
    assert [[seat.name for seat in cell.seats] for cell in found.cells] == [["Ada R."], [], []]


def test_a_station_with_something_to_mend_is_short_and_says_what(scene) -> None:
    put(scene, "Dee", "roll")
    found = row(scene, "roll")
    assert found.state == "short"
    assert "needs 2 people" in found.reason


def test_every_breach_is_shown_at_once(scene) -> None:
    put(scene, "Ada", "drill")
    put(scene, "Bo", "weld")
    put(scene, "Dee", "roll")
    make_bar(scene.people["Ada"], scene.drill)
    rules = {breach.rule for breach in board(scene).breaches}
    assert rules == {"barred", "fire_watch", "crew_minimum"}


def test_the_trouble_stands_at_the_seat_and_not_at_the_others(scene) -> None:
    put(scene, "Ada", "drill")
    put(scene, "Dee", "tag")
    make_bar(scene.people["Ada"], scene.drill)
    assert row(scene, "drill").cells[0].seats[0].troubles != ()
    assert row(scene, "tag").cells[0].seats[0].troubles == ()


def test_a_closed_station_keeps_the_plans_reason(scene) -> None:
    take_back(scene.people["Cy"].sign_offs.get())
    actions.plan_night(night=scene.night, by=None, seconds=1.0)
    found = row(scene, "weld")
    assert found.state == "closed"
    assert "fire watch" in found.reason


def test_the_kind_of_night_is_told_before_the_plans_reason(scene) -> None:
    scene.night.kind = Night.Kind.STEEL
    scene.night.save()
    assert row(scene, "roll").reason == "this is a steel night, no straw is handled"


def test_whoever_is_placed_is_not_idle_in_that_block(scene) -> None:
    put(scene, "Ada", "drill")
    idle = [{each.short_name for each in people} for _, people in board(scene).idle]
    assert ["Ada R." in names for names in idle] == [False, True, True]


def test_somebody_who_said_no_is_listed_last_and_not_idle(scene) -> None:
    scene.night.sign_ups.filter(person=scene.people["Ada"]).update(answer="no")
    view = board(scene)
    assert view.coming[-1].person_id == scene.people["Ada"].pk
    assert all(each.short_name != "Ada R." for _, people in view.idle for each in people)


def test_two_of_one_name_are_told_apart_on_the_board(scene) -> None:
    scene.join("Ada")
    names = [each.short_name for each in board(scene).coming if each.name == "Ada Reed"]
    assert len(set(names)) == 2


def test_a_station_taken_out_of_use_stays_on_the_board_with_its_trouble(scene) -> None:
    put(scene, "Dee", "tag")
    scene.tag.is_in_use = False
    scene.tag.save()
    found = row(scene, "tag")
    assert found.state == "short"
    assert "not in use any more" in found.reason


def test_somebody_taken_off_the_list_stays_on_the_board_with_their_trouble(scene) -> None:
    gone = make_person(scene.shop, first_name="Gil", is_active=False)
    Placing.objects.create(night=scene.night, block=scene.blocks[0], person=gone, station=scene.tag)
    assert "barred" in {breach.rule for breach in board(scene).breaches}


def test_the_board_takes_as_many_queries_for_twice_the_people(scene) -> None:
    with CaptureQueriesContext(connection) as few:
        board_for(scene.night)
    for number in range(10):
        scene.join(f"Guest{number}")
    with CaptureQueriesContext(connection) as many:
        board_for(scene.night)
    assert len(few) == len(many) <= 13


def test_sparks_without_a_whole_watch_are_short_and_name_the_gap(scene) -> None:
    put(scene, "Bo", "weld")
    put(scene, "Ada", "drill")
    found = row(scene, "weld")
    assert found.state == "short"
    assert "Nobody keeps the fire watch in Forge" in found.reason
    assert row(scene, "drill").state == "open"


def test_a_gap_in_the_watch_shows_at_the_watch_too(scene) -> None:
    put(scene, "Bo", "weld", 0)
    put(scene, "Cy", "watch", 1)
    assert row(scene, "watch").state == "short"
    assert "Nobody keeps the fire watch in Forge" in row(scene, "weld").reason


def why_of(scene, placing: Placing) -> str:
    seats = [seat for row in board(scene).rows for cell in row.cells for seat in cell.seats]
    return next(seat.why for seat in seats if seat.placing.pk == placing.pk)


def test_a_sentence_is_told_anew_once_the_crew_is_another(scene) -> None:
    actions.plan_night(night=scene.night, by=None, seconds=1.0)
    eli = Placing.objects.filter(role=Placing.Role.LEARNS).select_related("block").first()
    assert eli is not None
    assert "beside Ada R., who may lead" in why_of(scene, eli)
    actions.unplace(night=scene.night, block=eli.block, person=scene.people["Ada"])
    assert "but nobody there may lead now" in why_of(scene, eli)
