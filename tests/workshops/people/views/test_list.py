"""The people list."""

from __future__ import annotations

from datetime import date

import pytest

from inventory.places.models import Shop
from tests.factories import make_member, make_minor, make_person
from tests.workshops.people.views.conftest import ClientOf
from workshops.access.models import Membership, User
from workshops.people.models import Person

PAGE = "/teal-point/people/"


def test_it_lists_everybody_with_what_stands_in_the_way(
    ada: Person, berta: Person, duty_lead: User, client_of: ClientOf
):
    page = client_of(duty_lead).get(PAGE).content.decode()
    assert "Ada Lind" in page
    assert "no waiver" in page
    assert "signed off for 1 station" in page


def test_it_finds_by_name_and_answers_htmx_with_the_list_alone(
    ada: Person, berta: Person, duty_lead: User, client_of: ClientOf
):
    answer = client_of(duty_lead).get(PAGE, {"q": "ada"}, headers={"hx-request": "true"})
    page = answer.content.decode()
    assert "Ada Lind" in page
    assert "Berta" not in page
    assert "<html" not in page


@pytest.mark.parametrize("show", ["coming", "lapsed", "lapsing", "barred", "gone", "minors", "x"])
def test_every_filter_answers(ada: Person, duty_lead: User, client_of: ClientOf, show: str):
    assert client_of(duty_lead).get(PAGE, {"show": show, "on": "tomorrow"}).status_code == 200


def test_who_is_under_age_is_told_to_those_who_need_it(
    shop: Shop, duty_lead: User, authoriser: User, client_of: ClientOf
):
    make_minor(shop)
    make_person(shop, first_name="Grown")
    assert ">minor<" in client_of(duty_lead).get(PAGE).content.decode()
    page = client_of(authoriser).get(PAGE, {"show": "minors"}).content.decode()
    assert ">minor<" not in page
    assert "Grown" in page  # the filter is not theirs, so it is everybody


def test_an_empty_list_says_what_to_do_first(shop: Shop, coordinator: User, client_of: ClientOf):
    assert "Add yourself first" in client_of(coordinator).get(PAGE).content.decode()


def test_volunteers_and_strangers_do_not_see_it(
    volunteer: User, stranger: User, client_of: ClientOf
):
    assert client_of(volunteer).get(PAGE).status_code == 403
    assert client_of(stranger).get(PAGE).status_code == 404


def test_two_of_one_name_are_told_apart(shop: Shop, duty_lead: User, client_of: ClientOf):
    people = [make_person(shop, first_name="Jo", last_name="Berg") for _ in range(2)]
    page = client_of(duty_lead).get(PAGE).content.decode()
    assert all(f"Jo Berg (no. {person.pk})" in page for person in people)


@pytest.mark.parametrize("role", Membership.Role.values)
def test_who_is_a_minor_is_told_to_those_who_sign_people_in_alone(
    shop: Shop, role: str, client_of: ClientOf
):
    make_person(shop, first_name="Mina", born_on=date(2012, 1, 1))
    page = client_of(make_member(shop, "somebody", role)).get(PAGE).content.decode()
    assert (">minor<" in page) == (role in ("coordinator", "duty_lead"))
