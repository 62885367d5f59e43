"""Who comes? An answer noted, replaced, refused in words."""

from __future__ import annotations

import pytest

from tests.factories import make_person
from workshops.nights.models import Night, SignUp


def noted(client, url: str, **given) -> str:
    return client.post(url, given, follow=True).content.decode()


def test_an_answer_is_noted_with_its_times(scene, lead, page) -> None:
    fay = make_person(scene.shop, first_name="Fay")
    shown = noted(lead, page("coming"), person=fay.pk, answer="yes", arrives="18:45", leaves="")
    row = SignUp.objects.get(person=fay)
    assert (str(row.arrives), row.leaves) == ("18:45:00", None)
    assert ": coming." in shown


def test_one_press_says_somebody_is_not_coming(scene, lead, page) -> None:
    ada = scene.people["Ada"]
    assert "Ada R. is not coming" in lead.get(page("night")).content.decode()
    noted(lead, page("coming"), person=ada.pk, answer="no")
    assert SignUp.objects.get(person=ada).answer == "no"


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"arrives": "20:00", "leaves": "19:00"}, "would leave before arriving"),
        ({"answer": "never"}, "Select a valid choice"),
        ({"person": ""}, "This field is required"),
        ({"arrives": "late"}, "Enter a valid time"),
    ],
)
def test_an_answer_that_cannot_be_is_refused_in_words(scene, lead, page, given, told) -> None:
    usual = {"person": scene.people["Ada"].pk, "answer": "yes"}
    answer = lead.post(page("coming"), usual | given)
    assert answer.status_code == 422
    assert told in answer.content.decode()


def test_nobody_answers_for_a_night_that_is_over(scene, lead, page) -> None:
    Night.objects.update(status="closed")
    shown = noted(lead, page("coming"), person=scene.people["Ada"].pk, answer="no")
    assert "is closed" in shown
    assert SignUp.objects.get(person=scene.people["Ada"]).answer == "yes"


def test_somebody_of_another_shop_is_no_choice(scene, lead, page, other_shop) -> None:
    there = make_person(other_shop)
    shown = noted(lead, page("coming"), person=there.pk, answer="yes")
    assert "Select a valid choice" in shown


def test_only_whoever_runs_the_night_notes_it(scene, guest, stranger, client_of, page) -> None:
    given = {"person": scene.people["Ada"].pk, "answer": "no"}
    assert guest.post(page("coming"), given).status_code == 403
    assert client_of(stranger).post(page("coming"), given).status_code == 404
    assert SignUp.objects.get(person=scene.people["Ada"]).answer == "yes"
