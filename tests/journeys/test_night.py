"""A whole night through its addresses, by the people who would do it, with nothing replaced."""

from __future__ import annotations

import re
from datetime import date
from uuid import uuid4

import pytest
from django.test import Client
from django.utils import timezone

from inventory.ledger.queries import balance_of, check
from tests.factories import make_sign_off
from tests.workshops.nights.hot import answer_all, posted
from tests.workshops.nights.scene import Scene, bring_material, make_scene
from workshops.common.jobs import run_now
from workshops.common.models import Job
from workshops.nights.models import Night, Placing
from workshops.nights.queries import in_the_building
from workshops.people.models import Bar

pytestmark = pytest.mark.django_db

HOME = "/teal-point/nights"
NIGHT = f"{HOME}/2026-01-21"


class Desk:
    """A signed-in browser that follows where it is sent, and reads what it sees."""

    def __init__(self, client: Client) -> None:
        self.client = client

    def look(self, page: str) -> str:
        return self.client.get(page).content.decode()

    def send(self, page: str, **given: object) -> str:
        return self.client.post(page, given, follow=True).content.decode()


@pytest.fixture
def scene(shop, clock) -> Scene:
    """The shop with its people, stations and material; its night is next Wednesday's."""
    scene = make_scene(shop)
    bring_material(scene)
    scene.night.delete()
    return scene


@pytest.fixture
def desk(coordinator, client_of) -> Desk:
    return Desk(client_of(coordinator))


def add_the_night(scene: Scene, desk: Desk) -> None:
    shown = desk.send(
        f"{HOME}/add/", on="2026-01-21", kind="mixed", doors="18:00", stop="20:30", lock_up="21:00"
    )
    assert "The night of Wed Jan 21 is on the calendar." in shown
    assert "Nobody has said yet that they come" in shown
    scene.night = Night.objects.get()


def note_who_comes(scene: Scene, desk: Desk) -> None:
    for person in scene.people.values():
        desk.send(f"{NIGHT}/coming/", person=person.pk, answer="yes")
    assert "5 people expected" in desk.look(f"{NIGHT}/")


def plan(desk: Desk) -> str:
    desk.client.post(f"{NIGHT}/plan/")
    job = run_now(Job.objects.latest("pk"))
    assert job.state == Job.State.DONE, job.message
    return desk.look(job.result["next"])


def move(scene: Scene, desk: Desk, name: str, station: str, block: int = 0) -> str:
    url = f"{NIGHT}/move/{scene.blocks[block].pk}/{scene.people[name].pk}/"
    return desk.send(url, station=getattr(scene, station).pk)


def count(scene: Scene, desk: Desk, name: str, key: str = "", **given: object) -> str:
    return desk.send(
        f"{NIGHT}/tally/", operation=scene.operations[name].pk, client_key=key or str(uuid4()),
        **given,
    )  # fmt: skip


def test_from_the_calendar_to_a_plan_that_no_rule_stops(scene, desk) -> None:
    add_the_night(scene, desk)
    note_who_comes(scene, desk)
    shown = plan(desk)
    assert "No rule of the club stops this plan." in shown
    assert {row.person.first_name for row in Placing.objects.filter(station=scene.weld)} == {"Bo"}


def test_a_move_by_hand_is_kept_or_refused_with_its_reason(scene, desk) -> None:
    add_the_night(scene, desk)
    note_who_comes(scene, desk)
    plan(desk)
    refused = move(scene, desk, "Dee", "weld")
    assert "Dee R. stays where they were. Dee R. has no sign-off for Weld." in refused
    assert not Placing.objects.filter(person=scene.people["Dee"], station=scene.weld).exists()
    assert "Dee R. is at Tag" in move(scene, desk, "Dee", "tag")
    plan(desk)
    kept = Placing.objects.get(person=scene.people["Dee"], block=scene.blocks[0])
    assert (kept.station, kept.is_locked) == (scene.tag, True)


def test_the_board_shows_every_breach_at_once_as_facts_change(scene, desk) -> None:
    add_the_night(scene, desk)
    note_who_comes(scene, desk)
    plan(desk)
    desk.send(
        f"/teal-point/people/{scene.people['Bo'].pk}/bar/", station=scene.weld.pk,
        reason="left the torch burning",
    )  # fmt: skip
    assert Bar.objects.count() == 1
    make_sign_off(
        scene.people["Cy"], scene.watch, signed_on=date(2025, 12, 1), valid_until=date(2026, 1, 20)
    )
    shown = desk.look(f"{NIGHT}/")
    # Whoever is barred is taken out of the plan at once; what is left without them is told.
    assert not Placing.objects.filter(person=scene.people["Bo"], station=scene.weld).exists()
    told = int(re.search(r"(\d+) things? to mend", shown).group(1))
    assert told >= 2
    assert "Cy R.&#x27;s sign-off for Fire watch ended on 20 January 2026." in shown


def test_the_roll_knows_who_is_in_the_building(scene, desk, clock) -> None:
    add_the_night(scene, desk)
    note_who_comes(scene, desk)
    clock.shift(7 * 24 * 3600)
    for name in ("Ada", "Bo"):
        desk.send(f"{NIGHT}/roll/in/", person=scene.people[name].pk)
    assert [line.person.first_name for line in in_the_building(scene.night)] == ["Ada", "Bo"]
    clock.shift(3600)
    assert "Ada R. is out" in desk.send(f"{NIGHT}/roll/out/", person=scene.people["Ada"].pk)
    assert "1 in now" in desk.look(f"{NIGHT}/roll/")


def test_a_tally_sent_twice_counts_once_and_can_be_taken_back(scene, desk) -> None:
    add_the_night(scene, desk)
    key = str(uuid4())
    for _ in range(2):
        count(scene, desk, "drill", key, good="4")
    assert balance_of(scene.stock.post) == 4
    count(scene, desk, "drill", add="1")
    assert balance_of(scene.stock.post) == 5
    row = scene.night.tallies.latest("pk")
    assert "1 Make Post taken back." in desk.send(f"{NIGHT}/tally/{row.pk}/undo/")
    assert balance_of(scene.stock.post) == 4
    assert not check(scene.shop)


def test_the_night_cannot_be_closed_before_the_fire_watch_is_signed(scene, desk, clock) -> None:
    add_the_night(scene, desk)
    clock.shift(7 * 24 * 3600)
    count(scene, desk, "weld", good="2")
    words = {"words": "Two heads made.", "not_done": "in a hurry"}
    assert "no permit was opened" in desk.send(f"{NIGHT}/close/", **words)
    answer_all(scene.night, timezone.now())
    desk.send(f"{NIGHT}/permit/", **posted(scene.night, scene.people["Cy"]))
    assert "has not signed the end" in desk.send(f"{NIGHT}/close/", **words)
    clock.shift(90 * 60)
    desk.send(
        f"{NIGHT}/permit/spark/", station=scene.weld.pk, struck_by="Bo", at="19:30",
        client_key=str(uuid4()),
    )  # fmt: skip
    end = {"what": "end", "signed_by": "Cy Reed"}
    assert "The watch lasts until 20:30. Sign it then." in desk.send(f"{NIGHT}/permit/sign/", **end)
    clock.shift(60 * 60)
    desk.send(f"{NIGHT}/permit/sign/", **end)
    assert "Thank you, and good night." in desk.send(f"{NIGHT}/close/", **words)
    assert Night.objects.get().status == Night.Status.CLOSED
