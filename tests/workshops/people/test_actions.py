"""The people list: adding, changing, walk-ins, waivers and guardians."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from inventory.places.models import Shop
from tests.factories import TODAY, make_minor, make_person, make_station
from workshops.access.models import User
from workshops.people import actions
from workshops.people.models import Guardianship, Person, Waiver
from workshops.people.refusals import (
    DayRefused,
    GuardianRefused,
    NotOfThisShop,
    PeopleRefused,
    UnknownField,
)

pytestmark = pytest.mark.usefixtures("clock")
TOMORROW = TODAY + timedelta(days=1)


def test_somebody_new_joins_today_and_it_is_kept_who_wrote_them_down(shop: Shop, coordinator: User):
    person = actions.add_person(shop=shop, fields={"first_name": "Ada"}, by=coordinator)
    assert (person.joined_on, person.changed_by) == (TODAY, coordinator)


def test_a_person_is_changed_in_what_is_named_and_in_nothing_else(shop: Shop):
    person = make_person(shop, phone="555 0101")
    actions.edit_person(person=person, fields={"no_dust": True}, by=None)
    person.refresh_from_db()
    assert (person.no_dust, person.phone) == (True, "555 0101")


def test_a_fact_nobody_keeps_is_refused_by_name(shop: Shop):
    with pytest.raises(UnknownField, match="shoe_size"):
        actions.add_person(shop=shop, fields={"first_name": "Ada", "shoe_size": 41}, by=None)
    assert not Person.objects.exists()


def test_a_person_cannot_be_moved_to_another_shop(shop: Shop, other_shop: Shop):
    with pytest.raises(UnknownField):
        actions.edit_person(person=make_person(shop), fields={"shop": other_shop}, by=None)


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"first_name": "  "}, "first_name"),
        ({"first_name": "Ada", "email": "ada at home"}, "email"),
        ({"first_name": "A" * 61}, "first_name"),
        ({"first_name": "Ada", "born_on": TOMORROW}, "born_on"),
    ],
)
def test_a_value_that_cannot_be_is_refused_naming_the_field(
    shop: Shop, fields: dict[str, Any], field: str
):
    with pytest.raises(PeopleRefused) as refused:
        actions.add_person(shop=shop, fields=fields, by=None)
    assert refused.value.field == field
    assert not Person.objects.exists()


def test_likes_are_stations_of_the_shop(shop: Shop, other_shop: Shop):
    person, here = make_person(shop), make_station(shop)
    actions.edit_person(person=person, fields={"likes": [here]}, by=None)
    with pytest.raises(NotOfThisShop):
        actions.edit_person(person=person, fields={"likes": [make_station(other_shop)]}, by=None)
    assert list(person.likes.all()) == [here]


def test_a_walk_in_is_on_the_list_with_a_waiver_in_one_go(shop: Shop):
    fields = {"first_name": "Wim", "last_name": "Ola", "is_adult_declared": True}
    person = actions.walk_in(shop=shop, fields=fields, waiver_version="2025", by=None)
    waiver = person.waivers.get()
    assert (waiver.signed_on, waiver.valid_until) == (TODAY, date(2027, 1, 13))


def test_a_walk_in_who_cannot_be_written_down_leaves_nothing(shop: Shop):
    with pytest.raises(PeopleRefused):
        actions.walk_in(shop=shop, fields={"first_name": ""}, waiver_version="2025", by=None)
    assert (Person.objects.count(), Waiver.objects.count()) == (0, 0)


@pytest.mark.parametrize(
    ("waiver", "error"),
    [
        ({"version": " ", "on": TODAY}, PeopleRefused),
        ({"version": "2025", "on": TOMORROW}, DayRefused),
        ({"version": "2025", "on": TODAY, "valid_until": date(2026, 1, 13)}, DayRefused),
    ],
)
def test_a_waiver_that_cannot_be_is_refused(
    shop: Shop, waiver: dict[str, Any], error: type[Exception]
):
    with pytest.raises(error):
        actions.sign_waiver(person=make_person(shop), by=None, **waiver)
    assert not Waiver.objects.exists()


def test_a_guardian_named_again_changes_the_consent(shop: Shop):
    minor, parent = make_minor(shop), make_person(shop)
    actions.add_guardian(minor=minor, guardian=parent, by=None)
    actions.add_guardian(minor=minor, guardian=parent, consent_on=TODAY, by=None)
    assert Guardianship.objects.get().consent_on == TODAY


def test_only_a_grown_up_of_this_shop_is_a_guardian_and_only_of_a_minor(
    shop: Shop, other_shop: Shop
):
    minor, adult = make_minor(shop), make_person(shop)
    with pytest.raises(GuardianRefused):
        actions.add_guardian(minor=minor, guardian=make_minor(shop), by=None)
    with pytest.raises(GuardianRefused):
        actions.add_guardian(minor=adult, guardian=make_person(shop), by=None)
    with pytest.raises(NotOfThisShop):
        actions.add_guardian(minor=minor, guardian=make_person(other_shop), by=None)
    with pytest.raises(DayRefused):
        actions.add_guardian(minor=minor, guardian=adult, consent_on=TOMORROW, by=None)


def test_an_account_belongs_to_one_person_of_its_shop(shop: Shop, volunteer: User, stranger: User):
    person = make_person(shop)
    actions.link_account(person=person, user=volunteer, by=None)
    with pytest.raises(PeopleRefused, match="account"):
        actions.link_account(person=make_person(shop), user=volunteer, by=None)
    with pytest.raises(PeopleRefused, match="may not sign in"):
        actions.link_account(person=make_person(shop), user=stranger, by=None)
    assert volunteer.person == person
