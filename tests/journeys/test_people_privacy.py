"""Somebody asks what the club keeps of them, takes it along, and has it erased."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from django.test import Client

from inventory.places.models import Shop
from tests.crawl import crawl
from tests.factories import TODAY, make_night, make_sign_off, make_sign_up
from tests.workshops.nights.scene import Scene, make_scene
from workshops.access.models import User
from workshops.access.permissions import Permission
from workshops.common.rooms import doors
from workshops.mine.actions import ask_for_link, feed_of
from workshops.nights.models import RollLine
from workshops.people.models import Look, Person
from workshops.people.telling import SECTIONS

pytestmark = pytest.mark.django_db

SECRETS = ("Dee Reed", "dee@example.org", "555 0142 33", "Aunt Sedge 555 0177 11")
KEYS = {
    "about", "person", "account", "second_looks", "looked_at", "changes", "links",
    *(told.key for told in SECTIONS.values()),
}  # fmt: skip


@pytest.fixture
def scene(shop: Shop, clock: Any) -> Scene:
    return make_scene(shop)


@pytest.fixture
def dee(scene: Scene, volunteer: User) -> Person:
    """Dee, who came last week, has an account, and asked for links."""
    dee = scene.people["Dee"]
    dee.user, dee.email, dee.phone = volunteer, SECRETS[1], SECRETS[2]
    dee.emergency_contact, dee.born_on = SECRETS[3], date(1990, 5, 6)
    dee.save()
    past = make_night(scene.shop, date=TODAY - timedelta(days=7))
    make_sign_up(past, dee, guest_names="Dee Reed's sister")
    came = datetime(2026, 1, 8, 0, 0, tzinfo=UTC)
    RollLine.objects.create(night=past, person=dee, in_at=came, out_at=came + timedelta(hours=3))
    ask_for_link(email=dee.email, site="http://shop.example")
    feed_of(person=dee)
    return dee


@pytest.fixture
def desk(coordinator: User, client_of: Callable[[User], Client]) -> Client:
    return client_of(coordinator)


def at(dee: Person, page: str) -> str:
    return f"/teal-point/people/{dee.pk}/{page}"


def everything_the_site_shows(client: Client, shop: Shop) -> Iterator[tuple[str, str]]:
    """Every page that links lead to, and every file behind one of them, as text."""
    start = ["/", *(door.url for door in doors(shop.slug, set(Permission), ""))]
    start += [f"/{shop.slug}/people/?show=gone", f"/{shop.slug}/people/sign-offs/then/"]
    for visit in crawl(client, start, each=2):
        if visit.page:
            yield visit.url, visit.page.html
        elif visit.status == 200:
            answer = client.get(visit.url)
            body = b"".join(answer) if answer.streaming else answer.content
            yield visit.url, body.decode(errors="replace")


def test_dee_takes_everything_along_and_it_is_written_down(dee: Person, desk: Client):
    page = desk.get(at(dee, "everything/")).content.decode()
    assert [each for each in SECRETS if each not in page] == []
    told = json.loads(desk.get(at(dee, "everything/file/")).content)
    assert set(told) >= KEYS
    assert told["roll"][0]["in_at"] == "2026-01-08T00:00:00+00:00"
    assert told["person"][0]["born_on"] == "1990-05-06"
    assert told["links"][0]["email"] == dee.email
    assert Look.objects.filter(person=dee, page__contains="everything").count() == 2


def test_dee_reads_and_takes_it_herself(dee: Person, volunteer: User, client_of: Any):
    own = client_of(volunteer)
    assert "everything/" in own.get("/teal-point/my/details/").content.decode()
    assert "Aunt Sedge" in own.get("/teal-point/my/details/everything/").content.decode()
    told = json.loads(own.get("/teal-point/my/details/everything/file/").content)
    assert told["about"]["number"] == dee.pk
    assert Look.objects.get(person=dee).user == volunteer


def test_nobody_is_erased_while_in_the_building(dee: Person, scene: Scene, desk: Client):
    RollLine.objects.create(night=scene.night, person=dee, in_at=scene.at("18:00"))
    assert "sign them out first" in desk.get(at(dee, "erase/")).content.decode()
    answer = desk.post(at(dee, "erase/"), {"name": "Dee Reed"})
    assert (answer.status_code, Person.objects.get(pk=dee.pk).email) == (409, dee.email)


def test_a_slip_in_the_name_erases_nothing(dee: Person, desk: Client):
    page = desk.get(at(dee, "erase/")).content.decode()
    assert "This stays, under the number" in page
    answer = desk.post(at(dee, "erase/"), {"name": "Dee Read"})
    assert "Nothing was erased" in answer.content.decode()
    assert Person.objects.get(pk=dee.pk).email == dee.email


def test_after_the_erase_no_page_and_no_file_names_dee(dee: Person, shop: Shop, desk: Client):
    shown = [desk.get(f"/{shop.slug}/{page}").content.decode() for page in ("people/", "trail/")]
    assert all("Dee Reed" in html for html in shown)
    desk.post(at(dee, "erase/"), {"name": " dee  REED"})
    after = list(everything_the_site_shows(desk, shop))
    assert len(after) > 40
    assert [url for url, html in after if any(word in html for word in SECRETS)] == []


def test_what_was_signed_is_still_told_of_a_past_day(dee: Person, scene: Scene, desk: Client):
    level = make_sign_off(dee, scene.weld).get_level_display()
    desk.post(at(dee, "erase/"), {"name": "Dee Reed"})
    then = desk.get("/teal-point/people/sign-offs/then/?on=2026-01-05").content.decode()
    assert f"Erased person {dee.pk}" in then
    page = desk.get(at(dee, "")).content.decode()
    assert "This entry was erased on 14 Jan 2026 by Carla" in page
    assert level in page
    assert f"No. {dee.pk}" in desk.get("/teal-point/people/erased/").content.decode()


def test_dee_comes_in_no_more_by_link_account_or_calendar(
    dee: Person, volunteer: User, desk: Client, client_of: Any
):
    own, feed = client_of(volunteer), feed_of(person=dee)
    desk.post(at(dee, "erase/"), {"name": "Dee Reed"})
    assert own.get("/teal-point/my/").status_code == 302
    assert Client().get(f"/calendar/{feed.secret}.ics").status_code == 404
    assert ask_for_link(email="dee@example.org", site="http://shop.example") is None


def test_a_duty_lead_neither_erases_nor_takes_it_out(dee: Person, duty_lead: User, client_of: Any):
    lead = client_of(duty_lead)
    for page in ("everything/", "everything/file/", "erase/"):
        assert lead.get(at(dee, page)).status_code == 403


def test_a_changed_address_is_told_to_the_old_one(
    dee: Person, volunteer: User, client_of: Any, mailoutbox: list[Any],
    django_capture_on_commit_callbacks: Any,
):  # fmt: skip
    sent = {"first_name": "Dee", "last_name": "Reed", "email": "new@example.org"}
    with django_capture_on_commit_callbacks(execute=True):
        client_of(volunteer).post("/teal-point/my/details/", sent)
    letter = mailoutbox[-1]
    assert letter.to == ["dee@example.org"]
    assert "new@example.org" not in letter.body
    assert "If it was not you" in letter.body


def test_a_phone_changed_alone_sends_no_letter(
    dee: Person, volunteer: User, client_of: Any, mailoutbox: list[Any],
    django_capture_on_commit_callbacks: Any,
):  # fmt: skip
    sent = {"first_name": "Dee", "last_name": "Reed", "email": dee.email, "phone": "555 0000 12"}
    with django_capture_on_commit_callbacks(execute=True):
        client_of(volunteer).post("/teal-point/my/details/", sent)
    assert mailoutbox == []
