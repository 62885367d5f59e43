"""Two people of one name."""

from __future__ import annotations

from datetime import date

from inventory.places.models import Shop
from tests.factories import make_person
from workshops.people.names import short_names, told_apart


def test_a_name_that_is_nobody_elses_stands_alone(shop: Shop):
    ada = make_person(shop, first_name="Ada", last_name="Lind")
    assert told_apart([ada]) == {ada.pk: "Ada Lind"}
    assert short_names([ada]) == {ada.pk: "Ada L."}


def test_two_of_one_name_are_told_apart_by_the_day_they_joined(shop: Shop):
    old = make_person(shop, first_name="Jo", last_name="Berg", joined_on=date(2021, 10, 5))
    new = make_person(shop, first_name="jo", last_name="berg", joined_on=date(2025, 11, 2))
    names = told_apart([old, new])
    assert names == {
        old.pk: "Jo Berg (joined 5 Oct 2021)",
        new.pk: "jo berg (joined 2 Nov 2025)",
    }


def test_two_of_one_name_who_joined_together_are_told_apart_by_number(shop: Shop):
    twins = [make_person(shop, first_name="Jo", last_name="Berg") for _ in range(2)]
    assert [told_apart(twins)[twin.pk] for twin in twins] == [
        f"Jo Berg (no. {twin.pk})" for twin in twins
    ]


def test_short_names_take_as_many_letters_as_they_need(shop: Shop):
    lind = make_person(shop, first_name="Ada", last_name="Lind")
    lang = make_person(shop, first_name="Ada", last_name="Lang")
    larsen = make_person(shop, first_name="Ada", last_name="Larsen")
    assert list(short_names([lind, lang, larsen]).values()) == ["Ada Li.", "Ada Lan.", "Ada Lar."]


def test_short_names_of_two_of_one_name_keep_to_the_initial(shop: Shop):
    old = make_person(shop, first_name="Jo", last_name="Berg", joined_on=date(2021, 10, 5))
    new = make_person(shop, first_name="Jo", last_name="Berg", joined_on=date(2025, 11, 2))
    names = short_names([old, new])
    assert list(names.values()) == ["Jo B. (joined 5 Oct 2021)", "Jo B. (joined 2 Nov 2025)"]


def test_an_entry_that_left_the_list_takes_nobodys_plain_name_away(shop: Shop):
    kept = make_person(shop, first_name="Jo", last_name="Berg")
    gone = make_person(shop, first_name="Jo", last_name="Berg", is_active=False)
    other = make_person(shop, first_name="Jo", last_name="Bakke", is_active=False)
    assert told_apart([kept, gone, other])[kept.pk] == "Jo Berg"
    assert told_apart([kept, gone, other])[gone.pk] == f"Jo Berg (no. {gone.pk})"
    assert short_names([kept, gone, other])[kept.pk] == "Jo B."


def test_no_two_short_names_of_a_shop_are_alike(shop: Shop):
    firsts, lasts = ["Jo", "jo", "Jon"], ["", "B", "Berg", "Bergen", "berg", "Lie"]
    people = [
        make_person(shop, first_name=first, last_name=last, is_active=is_active)
        for first in firsts for last in lasts for is_active in (True, False)
    ]  # fmt: skip
    names = [name.casefold() for name in short_names(people).values()]
    assert len(set(names)) == len(people)


def test_short_names_of_namesakes_are_never_alike(shop: Shop):
    people = [make_person(shop, first_name="Jo", last_name="Berg") for _ in range(3)]
    people += [make_person(shop, first_name="Jo", last_name="") for _ in range(2)]
    names = short_names(people)
    assert len(set(names.values())) == 5
