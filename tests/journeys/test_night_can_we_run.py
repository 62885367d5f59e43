"""From the text at 17:40 to a plan: who is missing, whom to ask, what changes, who decides."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from tests.factories import make_night, make_person, make_sign_off, make_sign_up, make_waiver
from tests.workshops.nights.scene import Scene, bring_material, make_scene
from workshops.access.models import User
from workshops.nights.actions import plan_night
from workshops.nights.models import Night, Placing, RollLine, SignUp
from workshops.people.models import Person
from workshops.stations.models import Level

pytestmark = pytest.mark.django_db
NIGHT = "/teal-point/nights/2026-01-14/"
TONIGHT = f"{NIGHT}tonight/"


class Deputy:
    """The duty lead's browser: the coordinator is away, and nothing below needs her."""

    def __init__(self, client: Client) -> None:
        self.client = client

    def look(self, page: str = TONIGHT) -> str:
        return words(self.client.get(page).text)

    def send(self, page: str, **given: object) -> str:
        answer = self.client.post(page, given, follow=True)
        assert answer.status_code == 200
        return words(answer.text)

    def not_coming(self, person: Person) -> str:
        return self.send(f"{TONIGHT}not-coming/", person=person.pk, client_key=uuid4())


def words(html: str) -> str:
    """What a page says, without its tags."""
    main = html.split("<main")[1].split("<footer")[0]
    return re.sub(r"(<[^>]+>|\s)+", " ", main)


@pytest.fixture
def scene(shop, clock: Any) -> Scene:
    """Everybody placed at 17:40, twenty minutes before the doors."""
    scene = make_scene(shop)
    bring_material(scene)
    plan_night(night=scene.night, by=None, seconds=1.0)
    clock.move_to(scene.at("17:40"))
    return scene


@pytest.fixture
def deputy(duty_lead: User, client_of: Callable[[User], Client]) -> Deputy:
    return Deputy(client_of(duty_lead))


def welder(scene: Scene, name: str) -> Person:
    person = make_person(scene.shop, first_name=name, last_name="Aal", phone="0700 1")
    make_waiver(person)
    make_sign_off(person, scene.weld)
    return person


def test_the_only_welder_texts_ill_and_another_is_found(scene: Scene, deputy: Deputy, clock: Any):
    bo, zoe = scene.people["Bo"], welder(scene, "Zoe")
    assert "Yes: nothing is missing." in deputy.look()
    shown = deputy.not_coming(bo)
    # Only what changed: the welder's station, and the watch that nobody needs.
    assert "Bo R. is not coming" in shown
    assert "Closed: Weld, Fire watch." in shown
    assert re.search(r"About \d+ sets? fewer tonight", shown)
    assert "Ada R." not in shown
    shown = deputy.look()
    assert "Yes, but not Weld" in shown
    assert "No sparks tonight: what the others do" in shown
    assert shown.index("I asked Zoe A.") < shown.index("I asked Bo R.")
    deputy.send(f"{TONIGHT}asked/", person=zoe.pk, station=scene.weld.pk)
    assert "Asked 17:40" in deputy.look()
    ask = zoe.asks.get()
    assert "Zoe A.: comes." in deputy.send(f"{TONIGHT}asked/{ask.pk}/", reply="yes")
    plan_night(night=Night.objects.get(), by=None, seconds=1.0)
    assert Placing.objects.filter(person=zoe, station=scene.weld).exists()
    assert "Yes: nothing is missing." in deputy.look()


def test_the_text_was_a_mistake_and_the_plan_is_as_it_was(scene: Scene, deputy: Deputy):
    def plan() -> set[tuple[int, int, int]]:
        return set(Placing.objects.values_list("person", "block", "station"))

    before = plan()
    deputy.not_coming(scene.people["Bo"])
    assert plan() != before
    tap = scene.people["Bo"].taps.get()
    shown = deputy.send(f"{TONIGHT}changed/{tap.pk}/back/", client_key=uuid4())
    assert "Bo R. comes after all" in shown
    assert "Open now: Weld, Fire watch." in shown
    assert plan() == before


def test_four_came_of_fourteen_and_the_page_counts_on_the_four(
    scene: Scene, deputy: Deputy, clock: Any
):
    for number in range(9):
        scene.join(f"Fay{number}")
    assert SignUp.objects.filter(answer="yes").count() == 14
    for name in ("Ada", "Dee", "Eli", "Fay0"):
        deputy.send(f"{NIGHT}roll/in/", person=scene.people[name].pk)
    clock.move_to(scene.at("18:20"))
    shown = deputy.look()
    assert "4 in the building, 10 still to come" in shown
    assert shown.count("late") >= 10
    clock.move_to(scene.at("18:35"))
    shown = deputy.look()
    assert "Yes, but not Weld and Fire watch." in shown
    assert "hardly" in shown
    deputy.send(f"{NIGHT}rest/", current="again")
    here = {scene.people[name].pk for name in ("Ada", "Dee", "Eli", "Fay0")}
    assert set(Placing.objects.values_list("person", flat=True)) <= here
    assert "Drill" in deputy.look(NIGHT)


def test_a_man_who_carries_bending_every_night_is_asked_last_and_told_as_too_much(
    scene: Scene, deputy: Deputy
):
    scene.weld.name = "Bend"
    scene.weld.is_spark = scene.weld.is_hooded = False
    scene.weld.save()
    bo = scene.people["Bo"]
    for week in range(1, 11):
        day = scene.night.date - timedelta(weeks=week)
        night = make_night(scene.shop, date=day, status=Night.Status.CLOSED)
        make_sign_up(night, bo)
        if week < 10:
            at = scene.at("18:00") - timedelta(weeks=week)
            RollLine.objects.create(night=night, person=bo, in_at=at, out_at=at)
    assert "Only Bo R. can, and worked 9 of 10 nights this winter" in deputy.look()
    SignUp.objects.filter(night=scene.night, person=bo).delete()
    Placing.objects.filter(person=bo).delete()
    zoe = welder(scene, "Zoe")
    shown = deputy.look()
    assert shown.index("I asked Zoe A.") < shown.index("I asked Bo R.")
    assert "worked 9 of 10 nights this winter" in shown
    assert "Only Bo R." not in shown
    assert zoe.asks.count() == 0


def test_a_deputy_runs_all_of_it_and_a_volunteer_none(
    scene: Scene, deputy: Deputy, volunteer: User, client_of: Callable[[User], Client]
):
    make_sign_off(scene.people["Dee"], scene.drill, Level.ALONE)
    deputy.not_coming(scene.people["Bo"])
    tap = scene.people["Bo"].taps.get()
    pages = [TONIGHT, f"{TONIGHT}cold/", f"{TONIGHT}cost/{scene.weld.pk}/", f"{TONIGHT}off/",
             f"{TONIGHT}changed/{tap.pk}/"]  # fmt: skip
    assert all(deputy.look(page) for page in pages)
    assert "Gaps, and whom to ask" in deputy.look("/teal-point/")
    guest = client_of(volunteer)
    assert {guest.get(page).status_code for page in pages} == {403}
