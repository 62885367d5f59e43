"""Rows to a placing problem and back: nothing is lost on the way."""

from __future__ import annotations

from datetime import date

import pytest

from tests.factories import (
    make_bar,
    make_minor,
    make_person,
    make_sign_off,
    make_sign_up,
    make_station,
    make_tool,
)
from workshops.club.actions import set_rule
from workshops.nights import translate
from workshops.nights.engine import problem as engine
from workshops.nights.engine.placings import Role
from workshops.nights.loading import load
from workshops.nights.models import Night, Placing
from workshops.stations.models import Level


def problem(scene) -> engine.Problem:
    return load(scene.night).problem()


def person(scene, name: str) -> engine.Person:
    return problem(scene).person[str(scene.people[name].pk)]


def station(scene, name: str) -> engine.Station:
    return problem(scene).station[str(getattr(scene, name).pk)]


def decide(shop, key: str, value: object) -> None:
    set_rule(
        shop=shop, key=key, value=value, decided_by="the board", decided_on=date(2025, 9, 1),
        source="meeting", by=None,
    )  # fmt: skip


def test_blocks_are_minutes(scene) -> None:
    first = problem(scene).blocks[0]
    assert (first.start, first.end) == (1110, 1150)
    assert problem(scene).lock_up == 1260


def test_the_clubs_rules_reach_the_engine(scene) -> None:
    decide(scene.shop, "watch_minutes", 90)
    decide(scene.shop, "learner_pace_percent", 40)
    club = problem(scene).club
    assert (club.watch_minutes, club.learner_rate) == (90, 0.4)
    assert problem(scene).last_spark == 1260 - 90


def test_a_sign_off_keeps_its_level_and_its_last_day(scene) -> None:
    [signed] = person(scene, "Ada").sign_offs
    assert (signed.station, signed.level) == (str(scene.drill.pk), engine.Level.MAY_LEAD)
    assert signed.valid_until == "2026-11-04"


def test_bars_of_a_station_and_from_everywhere_reach_the_engine(scene) -> None:
    make_bar(scene.people["Ada"], scene.drill, reason="left the guard off")
    make_bar(scene.people["Bo"])
    assert [bar.station for bar in person(scene, "Ada").bars] == [str(scene.drill.pk)]
    assert [bar.station for bar in person(scene, "Bo").bars] == [None]


def test_a_missing_waiver_keeps_from_everywhere(scene) -> None:
    fay = scene.people["Fay"] = make_person(scene.shop, first_name="Fay")
    make_sign_up(scene.night, fay)
    [bar] = person(scene, "Fay").bars
    assert bar.station is None
    assert "no waiver that counts" in bar.reason


def test_somebody_of_unknown_age_counts_as_the_youngest(scene) -> None:
    scene.people["Fay"] = make_person(scene.shop, is_adult_declared=False)
    assert person(scene, "Fay").age == 0
    assert person(scene, "Ada").age is None


def test_a_guardian_taken_off_the_list_supervises_nobody(scene) -> None:
    ada = scene.people["Ada"]
    scene.people["Mina"] = make_minor(scene.shop, ada)
    assert person(scene, "Mina").guardians == (str(ada.pk),)
    ada.is_active = False
    ada.save()
    assert person(scene, "Mina").guardians == ()


def test_somebody_who_does_not_come_is_there_to_be_asked(scene) -> None:
    gus = scene.people["Gus"] = make_person(scene.shop, first_name="Gus")
    make_sign_off(gus, scene.weld)
    assert person(scene, "Gus").present == ()


def test_who_was_taken_off_the_list_is_left_out_unless_placed(scene) -> None:
    gone = make_person(scene.shop, is_active=False)
    assert str(gone.pk) not in problem(scene).person
    Placing.objects.create(night=scene.night, block=scene.blocks[0], person=gone, station=scene.tag)
    assert str(gone.pk) in problem(scene).person


def test_two_of_one_name_are_told_apart(scene) -> None:
    scene.join("Ada")
    names = [each.name for each in problem(scene).people if each.name.startswith("Ada")]
    assert len(set(names)) == 2


def test_a_learners_station_asks_for_working_alone(scene) -> None:
    scene.drill.level_needed = Level.WITH_A_LEAD
    scene.drill.save()
    assert station(scene, "drill").level_needed is engine.Level.ALONE


def test_hot_work_straw_and_hood_reach_the_engine(scene) -> None:
    assert (station(scene, "weld").is_hot, station(scene, "weld").is_hooded) == (True, True)
    assert station(scene, "roll").has_straw
    assert station(scene, "roll").is_dusty
    assert station(scene, "watch").is_fire_watch


def test_a_club_that_lets_straw_and_sparks_share_a_room_may(scene) -> None:
    decide(scene.shop, "hot_and_straw_apart", False)
    assert not station(scene, "roll").has_straw
    assert station(scene, "roll").is_dusty


def test_a_tool_shared_by_stations_stands_once_with_what_is_broken(scene) -> None:
    make_tool(scene.shop, scene.drill, scene.weld, count=2, out_of_service=1, fault="cord")
    [tool] = problem(scene).tools
    assert (tool.count, tool.out_of_service) == (2, 1)
    assert station(scene, "drill").tools == station(scene, "weld").tools == {tool.id: 1}


@pytest.mark.parametrize(
    ("kind", "name", "why"),
    [("steel", "roll", "no straw is handled"), ("straw", "weld", "no sparks are made")],
)
def test_the_kind_of_night_closes_a_station(scene, kind, name, why) -> None:
    night = Night(kind=kind)
    assert why in translate.closed_because(getattr(scene, name), night)
    assert translate.closed_because(scene.tag, night) == ""


def test_a_station_out_of_use_is_closed_while_somebody_stands_there(scene) -> None:
    Placing.objects.create(
        night=scene.night, block=scene.blocks[0], person=scene.people["Dee"], station=scene.tag
    )
    scene.tag.is_in_use = False
    scene.tag.save()
    assert station(scene, "tag").closed_because == "it is not in use any more"


def test_a_watch_runs_on_to_the_next_block_and_an_hour_past_the_last_sparks(scene) -> None:
    for block in scene.blocks:
        Placing.objects.create(
            night=scene.night, block=block, person=scene.people["Cy"], station=scene.watch,
            role=Placing.Role.WATCHES, room=scene.weld.room,
        )  # fmt: skip
    for block in scene.blocks[:2]:
        Placing.objects.create(
            night=scene.night, block=block, person=scene.people["Bo"], station=scene.weld
        )
    _, watch = load(scene.night).placed()
    assert [(each.start, each.end) for each in watch] == [
        (1110, 1150), (1150, 1190), (1190, 1250),
    ]  # fmt: skip


def test_a_lock_keeps_the_role_of_learners_and_watches_only(scene) -> None:
    roles = [Placing.Role.LEARNS, Placing.Role.LEADS, Placing.Role.WORKS]
    rows = [
        Placing(block=block, person=scene.people["Eli"], station=scene.drill, role=role)
        for block, role in zip(scene.blocks, roles, strict=True)
    ]
    locks = translate.locks(rows, scene.blocks)
    assert [lock.role for lock in locks] == [Role.LEARNS, None, None]
    assert [lock.block for lock in locks] == [0, 1, 2]


def test_another_shops_station_is_not_in_the_problem(scene, other_shop) -> None:
    make_station(other_shop, name="Elsewhere")
    names = {each.name for each in problem(scene).stations}
    assert scene.drill.name in names
    assert "Elsewhere" not in names
