"""What the forms offer and refuse before an action is asked."""

from __future__ import annotations

import pytest

from inventory.places.models import Shop
from tests.factories import TODAY, make_minor, make_person, make_station
from workshops.access.models import User
from workshops.people.forms import (
    AccountForm,
    BarForm,
    GuardianForm,
    PersonForm,
    SignOffForm,
    WalkInForm,
)


def choices(form: object, field: str) -> set[object]:
    """What a field offers."""
    return set(form.fields[field].queryset)


def test_forms_offer_only_stations_of_the_shop_that_are_in_use(shop: Shop, other_shop: Shop):
    here = make_station(shop)
    make_station(shop, is_in_use=False)
    make_station(other_shop)
    sign = SignOffForm(shop=shop, signers=[], today=TODAY)
    assert choices(sign, "station") == choices(BarForm(shop=shop), "station") == {here}
    assert choices(PersonForm(shop=shop), "likes") == {here}


def test_a_lone_signer_is_chosen_already(shop: Shop):
    signer, other = make_person(shop), make_person(shop)
    assert SignOffForm(shop=shop, signers=[signer], today=TODAY).initial["signed_by"] == signer
    both = SignOffForm(shop=shop, signers=[signer, other], today=TODAY)
    assert both.initial["signed_by"] is None
    assert choices(both, "signed_by") == {signer, other}


def test_a_guardian_is_chosen_from_the_others_on_the_list(shop: Shop, other_shop: Shop):
    minor, parent = make_minor(shop), make_person(shop)
    make_person(shop, is_active=False)
    make_person(other_shop)
    assert choices(GuardianForm(minor=minor), "guardian") == {parent}


def test_an_account_is_chosen_from_those_of_the_shop(shop: Shop, volunteer: User, stranger: User):
    assert choices(AccountForm(shop=shop), "user") == {volunteer}


@pytest.mark.parametrize(
    ("sent", "is_valid"),
    [
        ({"first_name": "Wim", "is_adult_declared": "on"}, True),
        ({"first_name": "Wim", "born_on": "2010-05-01"}, True),
        ({"first_name": "Wim"}, False),
        ({"is_adult_declared": "on"}, False),
    ],
)
def test_a_walk_in_has_a_name_and_an_age(shop: Shop, sent: dict[str, str], is_valid: bool):
    assert WalkInForm(sent, shop=shop).is_valid() is is_valid


def test_a_walk_in_of_a_known_name_is_asked_about_with_who_it_may_be(shop: Shop):
    jo = make_person(shop, first_name="Jo", last_name="Berg")
    sent = {"first_name": "Jo", "last_name": "berg", "is_adult_declared": "on"}
    asked = WalkInForm(sent, shop=shop)
    assert not asked.is_valid()
    assert asked.alike == [jo]
    assert WalkInForm(sent | {"is_another": "on"}, shop=shop).is_valid()
