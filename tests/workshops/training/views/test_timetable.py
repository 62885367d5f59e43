"""Train next, and the timetable."""

from __future__ import annotations

from typing import Any

from inventory.places.models import Shop
from tests.factories import make_night, make_station
from tests.workshops.training.conftest import ClientOf
from workshops.access.models import User
from workshops.nights.models import Night, TrainingDate
from workshops.people.models import Person
from workshops.stations.models import Level, Station

PAGE = "/teal-point/training/"
TIMETABLE = f"{PAGE}timetable/"


def test_it_says_what_hangs_on_one_person_and_who_learns(
    shop: Shop, ada: Person, eli: Person, nights: Any, duty_lead: User, client_of: ClientOf
):
    text = client_of(duty_lead).get(PAGE).text
    assert "Only Ada R. can, and is down for 0 of the 4 nights ahead." in text
    assert "one person" in text
    assert "0 of 3 nights and 0:00 of 4 hours beside a lead" in text


def test_the_page_takes_seventeen_queries(
    ada: Person, eli: Person, nights: Any, duty_lead: User, client_of: ClientOf,
    django_assert_num_queries: Any,
):  # fmt: skip
    client = client_of(duty_lead)
    with django_assert_num_queries(17):
        client.get(PAGE)


def test_without_stations_it_says_what_to_do_first(
    shop: Shop, coordinator: User, client_of: ClientOf
):
    assert "Add the stations first" in client_of(coordinator).get(PAGE).text


def test_a_proposal_is_taken_and_can_be_taken_off_again(
    ada: Person, eli: Person, say_yes: Any, duty_lead: User, client_of: ClientOf
):
    say_yes(ada, eli)
    client = client_of(duty_lead)
    assert "<strong>Eli R.</strong> at Drill, beside Ada R." in client.get(TIMETABLE).text
    client.post(f"{TIMETABLE}take/")
    row = TrainingDate.objects.get()
    assert "not placed yet" in client.get(TIMETABLE).text
    client.post(f"{TIMETABLE}{row.pk}/drop/")
    assert not TrainingDate.objects.exists()


def test_only_the_line_that_was_asked_is_taken(
    shop: Shop, ada: Person, eli: Person, drill: Station, say_yes: Any, duty_lead: User,
    client_of: ClientOf,
):  # fmt: skip
    say_yes(ada, eli)
    client_of(duty_lead).post(f"{TIMETABLE}take/", {"only": f"{eli.pk}-999"})
    assert not TrainingDate.objects.exists()
    client_of(duty_lead).post(f"{TIMETABLE}take/", {"only": f"{eli.pk}-{drill.pk}"})
    assert TrainingDate.objects.get().learner == eli


def test_a_line_of_ones_own_is_refused_in_the_words_of_the_gate(
    shop: Shop, ada: Person, eli: Person, drill: Station, nights: list[Night], duty_lead: User,
    client_of: ClientOf,
):  # fmt: skip
    bend = make_station(shop, name="Bend", level_needed=Level.ALONE)
    form = {"learner": eli.pk, "station": bend.pk, "lead": ada.pk, "night": nights[1].pk}
    answer = client_of(duty_lead).post(TIMETABLE, form)
    assert answer.status_code == 422
    assert "Eli R. has no sign-off for Bend." in answer.text
    client_of(duty_lead).post(TIMETABLE, form | {"station": drill.pk})
    assert TrainingDate.objects.get().night == nights[1]


def test_people_and_nights_of_another_shop_cannot_be_chosen(
    other_shop: Shop, ada: Person, eli: Person, drill: Station, duty_lead: User,
    client_of: ClientOf,
):  # fmt: skip
    night = make_night(other_shop)
    form = {"learner": eli.pk, "station": drill.pk, "lead": ada.pk, "night": night.pk}
    assert client_of(duty_lead).post(TIMETABLE, form).status_code == 422
