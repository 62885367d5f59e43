"""How people join: by a link, with a parent, in a troop, without a waiver, under one name."""

from __future__ import annotations

import re
from datetime import date
from uuid import uuid4

import pytest
import vobject
from django.core import mail
from django.core.cache import cache
from django.test import Client

from tests.factories import make_person, make_sign_off, make_waiver
from tests.workshops.nights.scene import Scene, bring_material, make_scene
from workshops.club.actions import set_rule
from workshops.common.jobs import run_now
from workshops.common.models import Job
from workshops.nights.models import Placing, RollLine, SignUp
from workshops.people.models import Guardianship, Person
from workshops.stations.models import Level

pytestmark = pytest.mark.django_db(transaction=True)

SHOP = "/teal-point"
NIGHT = f"{SHOP}/nights/2026-01-14"


class Desk:
    """A browser that follows where it is sent, and reads what it sees."""

    def __init__(self, client: Client) -> None:
        self.client = client

    def look(self, page: str) -> str:
        return self.client.get(page).content.decode()

    def send(self, page: str, **given: object) -> str:
        return self.client.post(page, given, follow=True).content.decode()


@pytest.fixture
def scene(shop, clock) -> Scene:
    """Tonight, six o'clock: the doors open."""
    cache.clear()
    scene = make_scene(shop)
    bring_material(scene)
    return scene


@pytest.fixture
def desk(coordinator, client_of) -> Desk:
    return Desk(client_of(coordinator))


@pytest.fixture
def door(duty_lead, client_of) -> Desk:
    return Desk(client_of(duty_lead))


def adopt(scene: Scene, key: str, value: object) -> None:
    set_rule(
        shop=scene.shop, key=key, value=value, decided_by="the committee",
        decided_on=date(2025, 10, 1), source="the insurer", by=None,
    )  # fmt: skip


def add_fifteen_year_old(desk: Desk, name: str) -> Person:
    desk.send(
        f"{SHOP}/people/walk-in/", first_name=name, last_name="Berg", born_on="2010-06-01",
        waiver_version="2026",
    )  # fmt: skip
    return Person.objects.get(first_name=name)


def plan(desk: Desk) -> None:
    desk.client.post(f"{NIGHT}/plan/")
    job = run_now(Job.objects.filter(kind="plan_night").latest("pk"))
    assert job.state == Job.State.DONE, job.message


def places_of(person: Person) -> set[str]:
    return set(Placing.objects.filter(person=person).values_list("station__name", flat=True))


def sign_in(desk: Desk, person: Person) -> str:
    return desk.send(f"{NIGHT}/roll/in/", person=person.pk)


# A volunteer sees to their own nights by a link that came by e-mail.


def link_mailed_to(email: str) -> str:
    Client().post("/link/", {"email": email})
    assert mail.outbox[-1].to == [email]
    return re.search(r"http://testserver(/link/\S+/)", mail.outbox[-1].body).group(1)


@pytest.fixture
def una(scene) -> Person:
    una = make_person(scene.shop, first_name="Una", last_name="Holt", email="una@example.org")
    make_waiver(una)
    return una


def test_from_a_letter_to_an_answer_that_the_coordinator_reads(scene, una, desk) -> None:
    own = Desk(Client())
    assert "When do I come?" in own.send(link_mailed_to("una@example.org"), person=una.pk)
    own.send(
        f"{SHOP}/my/nights/2026-01-14/", full="yes", answer="yes", arrives="18:30", guests="2",
        guest_names="two cousins", note="brings the truck",
    )  # fmt: skip
    shown = desk.look(f"{NIGHT}/")
    assert "brings 2: two cousins" in shown
    assert "“brings the truck”" in shown
    own.send(f"{SHOP}/my/nights/2026-01-14/", answer="no")
    assert "brings the truck" in desk.look(f"{NIGHT}/")
    assert SignUp.objects.get(person=una).guests == 0


def test_the_calendar_of_the_telephone_follows_a_night_that_snow_cancels(scene, una, desk) -> None:
    own = Desk(Client())
    own.send(link_mailed_to("una@example.org"), person=una.pk)
    own.send(f"{SHOP}/my/nights/2026-01-14/", answer="yes")
    page = own.look(f"{SHOP}/my/calendar/")
    address = re.search(r"http://testserver(/calendar/[^\"]+)", page).group(1)
    telephone = Client()
    before = vobject.readOne(telephone.get(address).content.decode()).vevent
    desk.send(f"{NIGHT}/cancel/", reason="snow")
    after = vobject.readOne(telephone.get(address).content.decode()).vevent
    assert (before.status.value, after.status.value) == ("CONFIRMED", "CANCELLED")
    assert before.uid.value == after.uid.value
    assert int(after.sequence.value) > int(before.sequence.value)
    assert "snow" in own.look(f"{SHOP}/my/")


def test_sign_offs_hours_and_details_are_ones_own(scene, una, desk, door, clock) -> None:
    make_sign_off(una, scene.drill, Level.ALONE, valid_until=date(2026, 3, 1))
    own = Desk(Client())
    own.send(link_mailed_to("una@example.org"), person=una.pk, own="yes")
    assert "until 1 Mar 2026" in own.look(f"{SHOP}/my/sign-offs/")
    sign_in(door, una)
    clock.shift(2 * 3600)
    door.send(f"{NIGHT}/roll/out/", person=una.pk)
    assert "2:00" in own.look(f"{SHOP}/my/hours/")
    given = {"first_name": "Una", "last_name": "Holt", "email": "una@example.org"}
    own.send(f"{SHOP}/my/details/", **given, phone="555 0142")
    assert "555 0142" in desk.look(f"{SHOP}/people/{una.pk}/edit/")


# A fifteen-year-old with a parent who welds; another with only a note.


def test_a_fifteen_year_old_needs_a_guardian_who_is_free_and_not_one_behind_a_hood(
    scene, desk, door
) -> None:
    adopt(scene, "guardian_must_be_present", True)
    mina, bo = add_fifteen_year_old(desk, "Mina"), scene.people["Bo"]
    desk.send(f"{SHOP}/people/{mina.pk}/guardian/", guardian=bo.pk, may_collect="on")
    assert "no guardian is in yet" in sign_in(door, mina)
    sign_in(door, bo)
    plan(desk)
    # Whoever welds is behind a hood and looks after nobody: one of the two stands aside.
    for block in scene.blocks:
        at = {row.person_id: row.station for row in Placing.objects.filter(block=block)}
        assert not (mina.pk in at and at.get(bo.pk) == scene.weld)
    assert places_of(mina) | places_of(bo)
    assert "Weld" not in places_of(mina)


def test_a_fifteen_year_old_with_only_a_note_is_on_the_roll_and_at_no_station(
    scene, desk, door
) -> None:
    adopt(scene, "guardian_must_be_present", True)
    adopt(scene, "consent_needed", True)
    nils = add_fifteen_year_old(desk, "Nils")
    said = sign_in(door, nils)
    assert "Nils B. counts as a minor and no guardian is in yet." in said
    assert "Nobody is named who may collect Nils" in door.look(f"{NIGHT}/roll/")
    plan(desk)
    assert places_of(nils) == set()
    url = f"{NIGHT}/move/{scene.blocks[0].pk}/{nils.pk}/"
    assert "stays where they were" in desk.send(url, station=scene.tag.pk)
    assert places_of(nils) == set()


# Twelve scouts and two leaders, unannounced.


def scouts(door: Desk, **given: object) -> str:
    usual = {
        "name": "Troop 41", "count": "12", "age": "12", "new_leaders": "Lars Ask\nUna Ask",
        "papers": "later", "are_here": "on", "client_key": uuid4(),
    }  # fmt: skip
    return door.send(f"{NIGHT}/group/", **(usual | given))


def test_fourteen_people_are_on_the_roll_after_one_form_of_six_fields(scene, door) -> None:
    key = uuid4()
    shown = scouts(door, client_key=key)
    scouts(door, client_key=key)
    assert RollLine.objects.filter(out_at=None).count() == 14
    assert "12 names still to be told" in shown
    assert "one free adult for 5, so 1 more adult must stay free" in shown
    assert "14 in now" in door.look(f"{NIGHT}/roll/")


def test_scouts_without_papers_do_not_work_and_with_them_they_tag(scene, door, desk) -> None:
    scouts(door)
    plan(desk)
    troop = Person.objects.filter(groups__isnull=False)
    assert not Placing.objects.filter(person__in=troop).exists()
    page = re.search(rf"{NIGHT}/group/\d+/", door.look(f"{NIGHT}/roll/")).group(0)
    door.send(page, papers="here")
    plan(desk)
    stations = set(Placing.objects.filter(person__in=troop).values_list("station__name", flat=True))
    assert stations
    assert not stations & {"Weld", "Drill", "Fire watch"}


def test_the_leaders_collect_the_scouts_and_names_come_later(scene, door) -> None:
    scouts(door, names="Ann Lee, 14")
    roll = door.look(f"{NIGHT}/roll/")
    assert "Who takes Ann L. home?" in roll
    collectors = re.findall(r'name="collected_by" value="\d+" formnovalidate>([^<]+)', roll)
    assert collectors[:2] == ["Lars A.", "Una A."]
    ben = Person.objects.get(first_name="Guest 2 of Troop 41")
    page = re.search(rf"{NIGHT}/group/\d+/", roll).group(0)
    door.send(page, **{f"first-{ben.pk}": "Ben", f"last-{ben.pk}": "Lee"})
    ben.refresh_from_db()
    assert str(ben) == "Ben Lee"
    assert Guardianship.objects.filter(minor=ben).count() == 2


# Somebody refuses the waiver.


def test_whoever_refuses_the_waiver_is_on_the_roll_and_works_nowhere(scene, desk, door) -> None:
    desk.send(f"{SHOP}/people/walk-in/", first_name="Rolf", is_adult_declared="on")
    rolf = Person.objects.get(first_name="Rolf")
    assert "has no waiver that counts: sign it before any work." in sign_in(door, rolf)
    plan(desk)
    assert places_of(rolf) == set()
    url = f"{NIGHT}/move/{scene.blocks[0].pk}/{rolf.pk}/"
    assert "stays where they were" in door.send(url, station=scene.tag.pk)
    assert "Rolf" in door.look(f"{NIGHT}/roll/")


# Two people of one name.


def test_two_people_of_one_name_are_told_apart_from_the_first_evening_on(scene, desk, door) -> None:
    given = {"first_name": "Ada", "last_name": "Reed", "is_adult_declared": "on"}
    asked = desk.send(f"{SHOP}/people/walk-in/", **given, waiver_version="2026")
    assert "Somebody of that name is on the list already." in asked
    assert Person.objects.filter(first_name="Ada").count() == 1
    desk.send(f"{SHOP}/people/walk-in/", **given, waiver_version="2026", is_another="on")
    second = Person.objects.filter(first_name="Ada").latest("pk")
    sign_in(door, second)
    assert list(RollLine.objects.values_list("person", flat=True)) == [second.pk]
    roll = door.look(f"{NIGHT}/roll/")
    names = re.findall(r"Ada R\. \((?:joined|no\.) [^)]+\)", roll)
    assert len(set(names)) >= 2
