"""Placing through its addresses: by hand, by the engine, and when the night turns out otherwise."""

from __future__ import annotations

from collections import Counter

import pytest
from django.test import Client

from tests.factories import make_station
from tests.journeys.test_night import Desk
from tests.workshops.nights.scene import Scene, bring_material, make_scene
from workshops.club.actions import set_rule
from workshops.common.jobs import run_now
from workshops.common.models import Job
from workshops.nights import actions
from workshops.nights.board import board_for
from workshops.nights.models import Change, Night, Placing
from workshops.people.models import Person
from workshops.stations.models import Level, Station

pytestmark = pytest.mark.django_db

NIGHT = "/teal-point/nights/2026-01-14"


@pytest.fixture
def scene(shop, clock) -> Scene:
    scene = make_scene(shop)
    bring_material(scene)
    return scene


@pytest.fixture
def desk(coordinator, client_of) -> Desk:
    return Desk(client_of(coordinator))


def move(scene: Scene, client: Client, name: str, station: object, **given: str) -> str:
    """A move as the board's script makes it: the board comes back."""
    block = given.pop("block", "0")
    url = f"{NIGHT}/move/{scene.blocks[int(block)].pk}/{scene.people[name].pk}/"
    pk = getattr(station, "pk", station)
    answer = client.post(url, {"station": pk, **given}, headers={"HX-Request": "true"})
    return answer.content.decode()


def at(scene: Scene, name: str) -> list[str]:
    rows = Placing.objects.filter(person=scene.people[name]).order_by("block")
    return list(rows.values_list("station__name", flat=True))


# ---- by hand -----------------------------------------------------------------------------------


def test_two_welders_named_as_each_others_buddy_are_told_at_once(scene, desk) -> None:
    Station.objects.filter(pk=scene.weld.pk).update(needs_buddy=True, crew_max=2)
    scene.join("Wyn", (scene.weld, Level.ALONE))
    move(scene, desk.client, "Bo", scene.weld)
    shown = move(scene, desk.client, "Wyn", scene.weld)
    assert "no adult in Forge is without a hood to be a buddy" in shown
    shown = move(scene, desk.client, "Ada", scene.drill)
    assert "to be a buddy" not in shown  # somebody beside them sees without a hood


def test_straw_rolled_in_the_room_where_arcs_run_is_refused_with_what_would_help(
    scene, desk
) -> None:
    Station.objects.filter(pk=scene.roll.pk).update(room=scene.weld.room)
    move(scene, desk.client, "Bo", scene.weld)
    shown = move(scene, desk.client, "Dee", scene.roll)
    assert "Dee R. stays where they were. Hot work and straw cannot share Forge" in shown
    assert "Empty the one kind of work in that room for the whole night first." in shown
    assert at(scene, "Dee") == []


def test_what_a_cell_says_before_the_drop_is_what_the_drop_is_told(scene, desk) -> None:
    block, ada = scene.blocks[2].pk, scene.people["Bo"].pk
    told = desk.client.get(f"{NIGHT}/places/{block}/{ada}/").json()
    cells = {each["name"]: each for each in told["cells"]}
    assert cells["Tag"]["no"] == ""
    assert "no sign-off for Drill" in cells["Drill"]["no"]
    for name, station in (("Drill", scene.drill), ("Weld", scene.weld)):
        shown = move(scene, desk.client, "Bo", station, block="2")
        assert cells[name]["no"].partition(" Ask")[0] in shown.replace("&#x27;", "'")


def test_two_tablets_the_later_move_is_refused_and_the_fresh_board_shown(scene, desk) -> None:
    seen = desk.look(f"{NIGHT}/").split('data-seen="')[1].split('"')[0]
    move(scene, desk.client, "Ada", scene.drill, seen=seen)
    shown = move(scene, desk.client, "Dee", scene.tag, seen=seen)
    assert "Somebody changed the board meanwhile. This is how it stands now." in shown
    assert "Ada R." in shown
    assert at(scene, "Dee") == []


def test_steps_are_taken_back_and_done_again_from_the_board(scene, desk) -> None:
    move(scene, desk.client, "Ada", scene.drill)
    move(scene, desk.client, "Ada", scene.tag, to_end="yes")
    assert at(scene, "Ada") == ["Tag", "Tag", "Tag"]
    step = Change.objects.latest("pk").pk
    assert "Ada R.: Drill and no place → Tag" in desk.look(f"{NIGHT}/")
    assert "Taken back." in desk.send(f"{NIGHT}/back/{step}/")
    assert at(scene, "Ada") == ["Drill"]
    assert "Done again." in desk.send(f"{NIGHT}/again/{step}/")
    assert at(scene, "Ada") == ["Tag", "Tag", "Tag"]


# ---- the night turns out otherwise --------------------------------------------------------------


def crowd(scene: Scene, count: int) -> None:
    """So many more who came without a word, signed off for nothing."""
    for number in range(count):
        scene.join(f"Guest{number}")


def test_thirty_one_came_and_the_floor_holds_eighteen(scene, desk, coordinator) -> None:
    make_station(
        scene.shop, name="Labels", slug="labels", room=scene.tag.room, crew_max=20,
        is_off_floor=True, kind=Station.Kind.TAG,
    )  # fmt: skip
    set_rule(shop=scene.shop, key="floor_holds", value=18, decided_by="Board", source="fire code",
             decided_on=scene.night.date, by=coordinator)  # fmt: skip
    Station.objects.filter(pk=scene.tag.pk).update(crew_max=16)
    crowd(scene, 26)
    shown = plan_night(desk)
    on_floor = Counter(
        Placing.objects.exclude(station__slug="labels").values_list("block__index", flat=True)
    )
    assert max(on_floor.values()) <= 18
    assert Placing.objects.count() == 3 * 31  # nobody idle without a word
    turns = Counter(Placing.objects.filter(station__slug="labels").values_list("person", flat=True))
    assert max(turns.values()) <= 2  # 39 turns among 31
    assert "Off the floor, in turns" in shown
    assert "No rule of the club stops this plan." in shown


def plan_night(desk: Desk) -> str:
    """Place everybody, and the board then."""
    desk.client.post(f"{NIGHT}/plan/")
    job = run_now(Job.objects.latest("pk"))
    assert job.state == Job.State.DONE, job.message
    return desk.look(f"{NIGHT}/")


def test_everybody_placed_or_not_has_a_sentence_of_their_own(scene, desk) -> None:
    crowd(scene, 3)
    plan_night(desk)
    rows = Placing.objects.select_related("person", "station")
    for row in rows:
        assert row.why.startswith(f"{row.person.first_name} "), row.why
        assert row.station.name in row.why or "fire watch" in row.why
    for _, people in board_for(scene.night).idle:
        assert all(each.why for each in people)
    move(scene, desk.client, "Dee", "none", to_end="yes")
    spare = [each for _, people in board_for(scene.night).idle for each in people]
    assert any("Nobody has placed Dee R. then." in each.why for each in spare)


def test_very_few_came_and_go_together_through_the_stations(scene, desk) -> None:
    scene.night.sign_ups.exclude(person__in=[scene.people[name] for name in ("Ada", "Bo")]).update(
        answer="no"
    )
    shown = plan_night(desk)
    assert "2 people are here for 4 stations with work, so they go together" in shown
    assert "Ada R." in shown


def test_somebody_who_asked_for_a_hand_at_the_alarm_is_never_alone_in_a_room(scene, desk) -> None:
    from_sign_up = Person.objects.get(first_name="Dee")
    actions.ask_for_a_hand(person=from_sign_up, is_wanted=True, by=None, at=scene.at("17:00"))
    shown = move(scene, desk.client, "Dee", scene.tag)
    assert "asked for a hand when the alarm goes and is alone in Barn" in shown


def test_somebody_who_cannot_stand_is_offered_seated_work_alone(scene, desk) -> None:
    Person.objects.filter(pk=scene.people["Dee"].pk).update(seated_only=True)
    Station.objects.filter(pk=scene.tag.pk).update(can_sit=True)
    told = desk.client.get(f"{NIGHT}/places/{scene.blocks[0].pk}/{scene.people['Dee'].pk}/").json()
    assert [each["name"] for each in told["cells"] if not each["no"]] == ["Tag"]


def test_when_rolling_drowns_the_rest_is_placed_again_from_the_racks_of_now(
    scene, desk, monkeypatch
) -> None:
    plan_night(desk)
    monkeypatch.setattr("django.utils.timezone.now", lambda: scene.at("19:20"))
    for name in ("Ada", "Bo", "Cy", "Dee"):
        actions.sign_in(night=scene.night, person=scene.people[name], at=scene.at("18:05"))
    assert "Not counted, because they are not on the roll: Eli R" in desk.look(f"{NIGHT}/rest/")
    shown = desk.send(f"{NIGHT}/rest/", current="stays")
    assert "What is different?" in shown
    run = Night.objects.get().plan
    assert run is not None
    assert run.from_block == 2
    assert f"What will be made from {scene.blocks[2].starts:%H:%M} on?" in desk.look(f"{NIGHT}/")


def test_stopping_earlier_keeps_who_stands_where(scene, desk) -> None:
    move(scene, desk.client, "Dee", scene.tag, to_end="yes")
    times = {"doors": "18:00", "stop": "20:30", "lock_up": "22:00"}
    for number, block in enumerate(scene.blocks):
        times |= {
            f"starts-{number}": f"{block.starts:%H:%M}",
            f"ends-{number}": f"{block.ends:%H:%M}",
        }
    shown = desk.send(f"{NIGHT}/times/", **times)
    assert "The times are changed." in shown
    assert "last spark 21:00" in shown
    assert at(scene, "Dee") == ["Tag", "Tag", "Tag"]
