"""Work stopped at a station: no path leads there, and whoever stands there is taken out."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

import pytest

from tests.factories import make_night, make_station
from tests.workshops.nights.hot import open_permit
from workshops.nights import actions
from workshops.nights.actions import placing
from workshops.nights.board import board_for
from workshops.nights.models import Placing
from workshops.nights.moving import places_for
from workshops.nights.refusals import NightRefused, PlacingRefused
from workshops.stations.actions import StationsRefused, reopen_station
from workshops.stations.models import StationStop

pytestmark = pytest.mark.django_db


def put(scene, name: str, station: str, block: int = 0, **fields):
    return actions.place(
        night=scene.night, block=scene.blocks[block], person=scene.people[name],
        station=getattr(scene, station), **fields,
    )  # fmt: skip


def stop(scene, station: str = "drill", clock: str = "18:00", **fields):
    given = {"reason": "a cut hand", "stopped_by": "Dov"} | fields
    return actions.stop_work(
        night=scene.night, station=getattr(scene, station), at=scene.at(clock), **given
    )


def at(scene, station: str) -> list[int]:
    rows = Placing.objects.filter(station=getattr(scene, station)).order_by("block")
    return list(rows.values_list("block__index", flat=True))


def test_nobody_is_placed_by_hand_at_a_closed_station(scene) -> None:
    stop(scene)
    with pytest.raises(PlacingRefused, match="Drill is closed: a cut hand") as refused:
        put(scene, "Ada", "drill")
    assert {breach.rule for breach in refused.value.breaches} == {"out_of_service"}
    assert at(scene, "drill") == []


def test_the_engine_leaves_a_closed_station_closed_and_says_why(scene, material) -> None:
    stop(scene)
    actions.plan_night(night=scene.night, by=None, seconds=1.0)
    assert at(scene, "drill") == []
    row = next(row for row in board_for(scene.night).closed_rows if row.station == scene.drill)
    assert row.reason.startswith("a cut hand (closed at 18:00 by Dov")


def test_who_stands_there_is_taken_out_and_what_is_over_stays(scene) -> None:
    for block in range(3):
        put(scene, "Ada", "drill", block)
    found = stop(scene, clock="19:20")
    assert [row.block.index for row in found.taken_out] == [1, 2]
    assert at(scene, "drill") == [0]
    assert not Placing.objects.get().is_locked  # or a plan made anew would trip over it


def test_the_board_shows_a_closed_station_with_who_stood_there(scene) -> None:
    put(scene, "Ada", "drill")
    stop(scene, clock="19:20")
    board = board_for(scene.night)
    row = next(row for row in board.open_rows if row.station == scene.drill)
    assert (row.state, row in board.closed_rows) == ("closed", True)


def test_a_station_closed_while_the_plan_is_made_takes_nobody(scene, material, monkeypatch) -> None:
    solved = placing.solve

    def slow(*args, **kwargs):
        found = solved(*args, **kwargs)
        stop(scene)
        return found

    monkeypatch.setattr(placing, "solve", slow)
    actions.plan_night(night=scene.night, by=None, seconds=1.0)
    assert at(scene, "drill") == []
    assert Placing.objects.exists()


def test_what_stands_at_a_closed_station_cannot_be_fixed_there(scene) -> None:
    put(scene, "Ada", "drill", is_locked=False)
    stop(scene, clock="19:20")
    with pytest.raises(PlacingRefused, match="closed"):
        actions.set_lock(placing=Placing.objects.get(), is_locked=True)


def test_nobody_joins_whoever_stood_at_a_station_that_was_closed_under_them(scene) -> None:
    put(scene, "Ada", "drill")
    stop(scene, clock="19:20")
    with pytest.raises(PlacingRefused, match="closed"):
        put(scene, "Eli", "drill")


def test_the_page_of_a_move_tells_why_the_station_is_shut(scene) -> None:
    stop(scene)
    shut = places_for(scene.night, scene.blocks[0], scene.people["Ada"]).shut
    assert "a cut hand" in next(each.no for each in shut if each.station == scene.drill)


def test_a_closed_fire_watch_takes_no_permit(scene) -> None:
    stop(scene, "watch")
    with pytest.raises(NightRefused, match="Fire watch is closed"):
        open_permit(scene.night, scene.people["Cy"], scene.at("18:10"))


def test_until_reopened_it_holds_on_later_nights_and_takes_them_out_there_too(scene) -> None:
    later = make_night(scene.shop, date=scene.night.date + timedelta(days=7))
    Placing.objects.create(
        night=later, block=later.blocks.all()[0], person=scene.people["Ada"], station=scene.drill
    )
    stop(scene, tonight_only=True)
    assert at(scene, "drill") == [0]
    stop(scene)
    assert at(scene, "drill") == []


def test_for_tonight_alone_the_next_night_is_open(scene) -> None:
    made = stop(scene, tonight_only=True).stop
    assert made.holds_on(scene.night.date)
    assert not made.holds_on(scene.night.date + timedelta(days=1))
    assert "until a lead" not in made.told


def test_a_named_lead_reopens_it_with_a_reason_once(scene) -> None:
    made = stop(scene).stop
    for why, name in (("", "Ada"), ("guard is back on", " ")):
        with pytest.raises(StationsRefused):
            reopen_station(stop=made, why=why, reopened_by=name, at=scene.at("19:00"))
    reopen_station(stop=made, why="guard is back on", reopened_by="Ada R.", at=scene.at("19:00"))
    put(scene, "Ada", "drill")
    with pytest.raises(StationsRefused, match="reopened before, by Ada R"):
        reopen_station(stop=made, why="again", reopened_by="Bo", at=scene.at("19:10"))


def test_sent_twice_it_is_one_stop(scene) -> None:
    key = uuid4()
    assert stop(scene, client_key=key).stop == stop(scene, client_key=key).stop
    assert StationStop.objects.count() == 1


@pytest.mark.parametrize("fields", [{"reason": " "}, {"stopped_by": ""}])
def test_a_stop_says_why_and_who(scene, fields) -> None:
    with pytest.raises(StationsRefused):
        stop(scene, **fields)


def test_a_station_of_another_shop_is_not_closed_from_here(scene, other_shop) -> None:
    foreign = make_station(other_shop)
    with pytest.raises(NightRefused):
        actions.stop_work(
            night=scene.night, station=foreign, reason="x", stopped_by="D", at=scene.at("18:00")
        )
