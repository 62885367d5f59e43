"""A club brings its spreadsheet of people, keeps two of one name apart, and joins one met twice."""

from __future__ import annotations

from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from inventory.places.models import Shop
from tests.factories import TODAY, make_station
from workshops.people.gate import may
from workshops.people.models import Look, Person
from workshops.stations.models import Level, Station

pytestmark = pytest.mark.django_db

PEOPLE = "/teal-point/people"
# As a German spreadsheet writes it: semicolons, Windows letters.
CLUB = (
    "First name;Last name;E-mail;Born on;Of age;Welding;Shoe size\r\n"
    "Jörg;Marsh;jorg@example.org;;yes;alone 2025-11-05 until 2026-10-31;44\r\n"
    "Ann;Reed;reeds@example.org;1984-03-02;;;\r\n"
    "Ann;Reed;reeds@example.org;2010-06-09;;;\r\n"
).encode("cp1252")


class Desk:
    """The coordinator's browser."""

    def __init__(self, client: Client) -> None:
        self.client, self.here = client, ""

    def look(self, page: str) -> str:
        return self.client.get(f"{PEOPLE}/{page}").content.decode()

    def bring(self, content: bytes) -> str:
        sent = {"file": SimpleUploadedFile("club.csv", content)}
        self.here = self.client.post(f"{PEOPLE}/lists/bring/", sent)["Location"]
        return self.client.get(self.here).content.decode()

    def press(self, button: str, **given: Any) -> str:
        return self.client.post(f"{self.here}{button}/", given, follow=True).content.decode()

    def write(self) -> str:
        page = self.client.get(self.here).content.decode()
        return self.press("write", seen=page.partition('name="seen" value="')[2].partition('"')[0])


@pytest.fixture
def desk(coordinator: Any, client_of: Any, clock: Any) -> Desk:
    return Desk(client_of(coordinator))


@pytest.fixture
def welding(shop: Shop) -> Station:
    return make_station(shop, name="Welding", level_needed=Level.ALONE)


def test_a_clubs_spreadsheet_comes_in_after_a_look_at_each_row(desk: Desk, welding: Station):
    page = desk.bring(CLUB)
    assert "Nobody reads the column Shoe size" in page
    assert not Person.objects.exists()
    assert "3 × new on the list" in desk.write()
    assert may(Person.objects.get(first_name="Jörg"), welding, TODAY).stopped_by("sign_off") is None
    assert "there is nothing to write" in desk.bring(CLUB)


def test_two_of_one_name_are_told_apart_where_they_are_chosen(desk: Desk, welding: Station):
    desk.bring(CLUB)
    desk.write()
    one, other = Person.objects.filter(first_name="Ann")
    page = desk.look("")
    assert f"Ann Reed (no. {one.pk})" in page
    assert f"Ann Reed (no. {other.pk})" in page


def test_the_list_taken_out_comes_in_again_and_the_look_is_written_down(desk: Desk, welding: Any):
    desk.bring(CLUB)
    desk.write()
    out = desk.client.get(f"{PEOPLE}/lists/out/csv/").content
    assert "jorg@example.org" in out.decode()
    assert Look.objects.filter(page="the list taken out").count() == 3
    assert "3 stays as it is" in desk.bring(out)


def test_an_authoriser_takes_out_no_address(shop: Shop, authoriser: Any, client_of: Any, desk: Any):
    desk.bring(b"First name,Phone\nAda,555-0134\n")
    desk.write()
    out = client_of(authoriser).get(f"{PEOPLE}/lists/out/csv/").content.decode()
    assert "Ada" in out
    assert "555-0134" not in out


def test_one_person_met_twice_becomes_one_entry(desk: Desk, welding: Station):
    desk.bring(CLUB)
    desk.write()
    desk.bring("First name;Last name;Phone\nJ\u00f6rg;Marsch;555-0134\n".encode())
    assert "2 × new" not in desk.press("answers", **{"row-2": "new"})
    desk.write()
    kept = Person.objects.get(last_name="Marsch")
    gone = Person.objects.get(last_name="Marsh")
    assert "nearly the same name" in desk.look("alike/")
    desk.here = f"{PEOPLE}/{kept.pk}/merge/{gone.pk}/"
    assert "1 sign-off and 0 bars are copied" in desk.client.get(desk.here).content.decode()
    seen = desk.look(f"{kept.pk}/merge/{gone.pk}/").partition('name="seen" value="')[2]
    desk.client.post(desk.here, {"seen": seen.partition('"')[0]})
    assert Person.objects.get(pk=gone.pk).merged_into == kept
    assert kept.sign_offs.get().station == welding
    assert desk.client.get(f"{PEOPLE}/{gone.pk}/")["Location"] == f"{PEOPLE}/{kept.pk}/"
