"""Can we run tonight? The page, its pieces, and who may see what."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.factories import make_person, make_sign_off, make_sign_up, make_waiver
from workshops.nights.models import Night, SignUp
from workshops.people.models import Look
from workshops.tonight.models import Ask, Tap

pytestmark = pytest.mark.django_db
MOST_QUERIES = 24  # with session, sign-in and membership


def queries(client, url: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        assert client.get(url).status_code == 200
    return len(asked)


def test_every_station_is_told_with_its_state(scene, lead, page):
    shown = lead.get(page()).text
    assert "Yes: nothing is missing." in shown
    assert shown.count("wb-state--open") == 5
    assert "Hangs on Bo R. and Cy R." in shown


def test_the_queries_stay_as_they_are_for_twice_the_people(scene, lead, page):
    SignUp.objects.filter(person=scene.people["Bo"]).update(answer="no")
    first = queries(lead, page())
    for number in range(20):
        person = make_person(scene.shop, first_name=f"New{number}")
        make_waiver(person)
        make_sign_off(person, scene.weld)
        if number % 2:
            make_sign_up(scene.night, person)
    assert queries(lead, page()) == first <= MOST_QUERIES


def test_without_sparks_the_page_offers_the_cold_plan(scene, material, lead, page):
    SignUp.objects.filter(person=scene.people["Bo"]).update(answer="no")
    shown = lead.get(page()).text
    assert "Yes, but not Weld" in shown
    assert "No sparks tonight: what the others do" in shown
    piece = lead.get(page("cold/"), headers={"HX-Request": "true"}).text
    assert "No sparks tonight: " in piece
    assert "<h1" not in piece


def test_the_cost_is_a_piece_or_a_page(scene, material, lead, page):
    SignUp.objects.filter(person=scene.people["Bo"]).update(answer="no")
    url = page(f"cost/{scene.weld.pk}/")
    assert "Costs the winter about" in lead.get(url, headers={"HX-Request": "true"}).text
    assert "What does it cost that Weld is closed?" in lead.get(url).text


def test_numbers_are_shown_after_a_press_that_is_written_down(scene, lead, page):
    SignUp.objects.filter(person=scene.people["Bo"]).update(answer="no")
    scene.people["Bo"].phone = "0700 123 456"
    scene.people["Bo"].save()
    assert "0700 123 456" not in lead.get(page()).text
    assert "0700 123 456" in lead.post(page(f"phones/{scene.weld.pk}/")).text
    assert Look.objects.get().what == ["phone"]


def test_a_station_of_nowhere_is_not_found(scene, lead, page):
    assert lead.get(page("cost/999999/")).status_code == 404


def test_asking_nobody_or_saying_nothing_is_told(scene, lead, page):
    assert "Choose whom you asked" in lead.post(page("asked/"), follow=True).text
    ask = Ask.objects.create(
        shop=scene.shop, night=scene.night, person=scene.people["Bo"], station=scene.weld
    )
    shown = lead.post(page(f"asked/{ask.pk}/"), {"reply": "?"}, follow=True).text
    assert "Say whether they come" in shown


def test_a_tap_on_nobody_changes_nothing(scene, lead, page):
    assert "Choose who is not coming" in lead.post(page("not-coming/"), follow=True).text
    assert not Tap.objects.exists()


def test_a_night_that_is_over_says_so(scene, lead, page):
    Night.objects.update(status="closed")
    assert "This night is closed" in lead.get(page()).text


def test_an_empty_club_is_told_what_comes_first(scene, lead, page):
    SignUp.objects.all().delete()
    assert "Nobody has said yet that they come." in lead.get(page()).text


def test_the_board_offers_the_same_tap(scene, lead, page):
    shown = lead.get(page().removesuffix("tonight/")).text
    assert shown.count(f'action="{page("not-coming/")}"') == shown.count('is not coming"') > 0
    assert shown.count('name="client_key"') >= shown.count('is not coming"')
