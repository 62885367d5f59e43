"""Who is rung the day after, the number behind a press, and the list for a doctor."""

from __future__ import annotations

from uuid import uuid4

import pytest

from workshops.people.models import Look
from workshops.trouble.models import DayAfter

pytestmark = pytest.mark.django_db
NIGHT = "/teal-point/nights/2026-01-14/"
PAGE = f"{NIGHT}day-after/"


@pytest.fixture
def bo(scene, put):
    """Bo, who welded."""
    put("Cy", "watch")
    put("Bo", "weld", 0, 1)
    person = scene.people["Bo"]
    person.phone = "555 0142"
    person.save(update_fields=["phone"])
    return person


def test_who_welded_stands_on_the_list_with_minutes_and_no_number(bo, lead) -> None:
    text = lead.get(PAGE).text
    assert "Welded for 80 minutes." in text
    assert "555 0142" not in text


def test_the_number_comes_for_a_press_that_is_written_down(bo, lead) -> None:
    assert "555 0142" in lead.post(f"{PAGE}{bo.pk}/phone/").text
    look = Look.objects.get()
    assert (look.person, look.what, look.page) == (bo, ["phone"], "the day after a night")


def test_for_htmx_the_number_alone_comes_back(bo, lead) -> None:
    text = lead.post(f"{PAGE}{bo.pk}/phone/", headers={"HX-Request": "true"}).text
    assert "tel:555 0142" in text
    assert "<html" not in text


def test_nobody_off_the_list_is_shown(bo, scene, lead) -> None:
    assert lead.post(f"{PAGE}{scene.people['Dee'].pk}/phone/").status_code == 404
    assert not Look.objects.exists()


def test_an_answer_is_a_row_and_not_well_comes_with_the_doctors_words(bo, lead) -> None:
    given = {"person": bo.pk, "answer": "not_well", "client_key": str(uuid4())}
    for _ in range(2):
        text = lead.post(PAGE, given, follow=True).text
    assert "See a doctor, and say: steel was welded for 80 minutes" in text
    assert DayAfter.objects.get().asked_by == "Dov"


@pytest.mark.parametrize("given", [{"person": "0"}, {"answer": "odd"}, {"client_key": "x"}])
def test_half_an_answer_writes_nothing(bo, lead, given) -> None:
    usual = {"person": bo.pk, "answer": "fine", "client_key": str(uuid4())}
    assert "Nothing was written down." in lead.post(PAGE, usual | given, follow=True).text
    assert not DayAfter.objects.exists()


def test_a_night_without_welders_says_so(scene, lead) -> None:
    assert "Nobody welded or handled straw" in lead.get(PAGE).text


def test_who_worked_where_prints_for_a_doctor(bo, lead) -> None:
    text = lead.get(f"{NIGHT}who-worked-where/").text
    assert "<td>Bo R.</td><td>Weld</td><td>18:30–19:50</td><td>80</td>" in text


@pytest.mark.parametrize("who", ["volunteer", "authoriser", "storekeeper", "reader"])
def test_only_those_who_may_see_what_is_private(bo, client_of, who, request) -> None:
    client = client_of(request.getfixturevalue(who))
    assert client.get(PAGE).status_code == 403
    assert client.get(f"{NIGHT}who-worked-where/").status_code == 403
    assert client.post(f"{PAGE}{bo.pk}/phone/").status_code == 403
